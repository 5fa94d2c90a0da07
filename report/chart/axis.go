package chart

import (
	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
)

// logAxes adds to the axes of a chart what the option structs lack: marks at chosen
// frequencies, a fixed step in level. It embeds the library's own structs and adds the
// missing keys; the shallower key wins.
type logAxes struct {
	charts.BaseConfigurationVisitor
	step  float64   // of the y axis
	marks []float64 // of the x axis, Hz
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
	marked := make([]markedXAxis, len(axes))
	for i, x := range axes {
		marked[i] = markedXAxis{
			XAxis: x, AxisTick: customValues{a.marks},
			AxisLabel: customLabel{CustomValues: a.marks, Color: roleFaint, HideOverlap: true, ShowMinLabel: true, ShowMaxLabel: true},
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

// xAxis returns the logarithmic axis of frequencies.
func (c *Chart) xAxis() opts.XAxis {
	return opts.XAxis{
		Type: "log", Min: c.Band.Min, Max: c.Band.Max, Name: "Hz", NameLocation: "end", NameGap: 6,
		AxisLine: &opts.AxisLine{OnZero: opts.Bool(false), LineStyle: &opts.LineStyle{Color: roleFaint}},
	}
}

// options returns the upright axis.
func (y YAxis) options() opts.YAxis {
	return opts.YAxis{
		Type: "value", Min: 0, Max: y.Max, Name: y.Name, NameLocation: "end", NameGap: 8,
		AxisLabel: &opts.AxisLabel{Color: roleFaint, ShowMinLabel: opts.Bool(true), ShowMaxLabel: opts.Bool(true)},
		SplitLine: &opts.SplitLine{Show: opts.Bool(true), LineStyle: &opts.LineStyle{Color: roleRule}},
	}
}
