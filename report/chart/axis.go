package chart

import (
	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
)

// Limits and marks of every frequency axis, Hz.
const (
	AxisFrom = 20
	AxisTo   = 300
)

// axisMarks are the labelled frequencies: the preferred third octaves of ISO 266.
func axisMarks() []float64 {
	return []float64{20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 300}
}

// logAxes adds to the axes of a chart what the option structs lack: marks at chosen
// frequencies, a fixed step in level. It embeds the library's own structs and adds the
// missing keys; the shallower key wins.
type logAxes struct {
	charts.BaseConfigurationVisitor
	step  float64   // of the y axis
	marks []float64 // of the x axis, Hz; nil is axisMarks
}

type markedXAxis struct {
	opts.XAxis
	AxisTick  customValues `json:"axisTick"`
	AxisLabel customLabel  `json:"axisLabel"`
	SplitLine customLine   `json:"splitLine"`
}

type customValues struct {
	CustomValues []float64 `json:"customValues"`
}

type customLabel struct {
	CustomValues []float64 `json:"customValues"`
	Color        string    `json:"color"`
	HideOverlap  bool      `json:"hideOverlap"`
	ShowMinLabel bool      `json:"showMinLabel"`
	ShowMaxLabel bool      `json:"showMaxLabel"`
}

type customLine struct {
	Show bool `json:"show"`
}

type steppedYAxis struct {
	opts.YAxis
	Interval float64 `json:"interval,omitempty"`
}

// VisitXAxis implements charts.ConfigurationVisitor.
func (a logAxes) VisitXAxis(axes []opts.XAxis) interface{} {
	marks := a.marks
	if marks == nil {
		marks = axisMarks()
	}
	marked := make([]markedXAxis, len(axes))
	for i, x := range axes {
		marked[i] = markedXAxis{
			XAxis: x, AxisTick: customValues{marks},
			AxisLabel: customLabel{CustomValues: marks, Color: roleFaint, HideOverlap: true, ShowMinLabel: true, ShowMaxLabel: true},
		}
	}
	return marked
}

// VisitYAxis implements charts.ConfigurationVisitor.
func (a logAxes) VisitYAxis(axes []opts.YAxis) interface{} {
	stepped := make([]steppedYAxis, len(axes))
	for i, y := range axes {
		stepped[i] = steppedYAxis{YAxis: y, Interval: a.step}
	}
	return stepped
}

// xAxis returns the logarithmic axis that all charts share.
func (c *Chart) xAxis() opts.XAxis {
	axis := opts.XAxis{
		Type: "log", Min: AxisFrom, Max: AxisTo, Name: "Hz", NameLocation: "end", NameGap: 6,
		AxisLine: &opts.AxisLine{OnZero: opts.Bool(false), LineStyle: &opts.LineStyle{Color: roleFaint}},
	}
	if c.To > 0 {
		axis.Min, axis.Max = c.From, c.To
	}
	return axis
}

// options returns the upright axis.
func (y YAxis) options() opts.YAxis {
	axis := opts.YAxis{
		Type: "value", Min: y.Min, Name: y.Name, NameLocation: "end", NameGap: 8,
		AxisLabel: &opts.AxisLabel{Color: roleFaint, ShowMinLabel: opts.Bool(true), ShowMaxLabel: opts.Bool(true)},
		SplitLine: &opts.SplitLine{Show: opts.Bool(true), LineStyle: &opts.LineStyle{Color: roleRule}},
	}
	if y.Max > y.Min {
		axis.Max = y.Max
	}
	return axis
}
