package report

import (
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
)

// modeKinds are the kinds of mode with their look: the fewer walls a mode needs,
// the heavier its line.
var modeKinds = [...]struct {
	kind, role, symbol string
	width              float32
	size               int
}{
	{"oblique", "var(--oblique)", "triangle", 1, 5},
	{"tangential", "var(--tangential)", "rect", 1.4, 6},
	{"axial", "var(--axial)", "circle", 2.2, 8},
}

// modeChart returns the options of the chart of modes: a stem for each mode at
// its frequency, as high as its decay time, by kind.
func modeChart(modes []Mode) ([]byte, error) {
	line := charts.NewLine()
	line.SetGlobalOptions(
		charts.WithInitializationOpts(opts.Initialization{ChartID: "mode_falls"}),
		charts.WithAnimation(false),
		charts.WithXAxisOpts(frequencyAxis()),
		charts.WithYAxisOpts(opts.YAxis{
			Type: "value", Min: 0, Name: "decay, s", NameLocation: "end", NameGap: 8,
			AxisLabel: &opts.AxisLabel{Color: roleFaint, ShowMinLabel: opts.Bool(true), ShowMaxLabel: opts.Bool(true)},
			SplitLine: &opts.SplitLine{Show: opts.Bool(true), LineStyle: &opts.LineStyle{Color: roleRule}},
		}),
		charts.WithGridOpts(opts.Grid{Left: "48", Right: "34", Top: "30", Bottom: "30"}),
		charts.WithTooltipOpts(opts.Tooltip{Show: opts.Bool(true), Trigger: "item"}),
		charts.WithLegendOpts(opts.Legend{
			Show: opts.Bool(true), Data: []string{"axial", "tangential", "oblique"}, Top: "0", Right: "20",
			TextStyle: &opts.TextStyle{Color: roleInk}, InactiveColor: roleRule,
		}),
	)
	for _, k := range modeKinds {
		line.AddSeries(k.kind, stems(modes, k.kind, k.symbol, k.size),
			charts.WithLineChartOpts(opts.LineChart{Symbol: k.symbol, SymbolSize: k.size, ShowSymbol: opts.Bool(true)}),
			charts.WithLineStyleOpts(opts.LineStyle{Color: k.role, Width: k.width}),
			charts.WithItemStyleOpts(opts.ItemStyle{Color: k.role}),
		)
	}
	return options(line, 0)
}

// stems draws each mode of a kind as a line from zero up to its decay time; a
// dash between two stems breaks the line.
func stems(modes []Mode, kind, symbol string, size int) []opts.LineData {
	var data []opts.LineData
	for _, m := range modes {
		if m.Kind != kind || m.Frequency < axisFrom || m.Frequency > axisTo || !(m.Decay > 0) || math.IsInf(m.Decay, 0) {
			continue
		}
		f := round(m.Frequency, 2)
		data = append(data,
			opts.LineData{Value: []float64{f, 0}, Symbol: "none"},
			opts.LineData{Name: m.Name(), Value: []float64{f, round(m.Decay, 3)}, Symbol: symbol, SymbolSize: size},
			opts.LineData{Value: []string{"-", "-"}},
		)
	}
	return data
}
