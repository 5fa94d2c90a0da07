package reporttest

import (
	"bytes"
	"encoding/json"
	"testing"
)

// Indented returns JSON with a space a level, as the goldens hold it.
func Indented(t *testing.T, b []byte) string {
	t.Helper()
	var out bytes.Buffer
	if err := json.Indent(&out, b, "", " "); err != nil {
		t.Fatal(err)
	}
	return out.String() + "\n"
}

// ChartDoc is what the tests read of a chart's options.
type ChartDoc struct {
	XAxis []struct {
		Type     string
		Min, Max float64
	} `json:"xAxis"`
	YAxis []struct {
		Min, Max, Interval float64
	} `json:"yAxis"`
	Legend struct{ Selected map[string]bool }
	Series []struct {
		Name      string
		LineStyle struct{ Color, Type string } `json:"lineStyle"`
		Data      []struct{ Value []any }
		MarkArea  struct {
			Data [][]struct{ Coord []float64 }
		} `json:"markArea"`
	}
}

// ReadChart reads the options of a chart that was made without an error.
func ReadChart(t *testing.T, b []byte, err error) ChartDoc {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	var doc ChartDoc
	if err := json.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}
