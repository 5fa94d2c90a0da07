package report

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// fixed is a number rounded to so many decimals in JSON; null if it is not
// finite.
type fixed struct {
	value  float64
	places int
}

// rounded returns a number with so many decimals.
func rounded(v float64, places int) fixed { return fixed{value: v, places: places} }

func metres(v float64) fixed { return rounded(v, 4) }

func hertz(v float64) fixed { return rounded(v, 3) }

func decibel(v model.Level) fixed { return rounded(float64(v), 2) }

// MarshalJSON writes the shortest form of the rounded number.
func (f fixed) MarshalJSON() ([]byte, error) {
	if math.IsNaN(f.value) || math.IsInf(f.value, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, round(f.value, f.places), 'f', -1, 64), nil
}

// writeJSON writes a document indented by a space a level.
func writeJSON(w io.Writer, doc any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	if err := enc.Encode(doc); err != nil {
		return fmt.Errorf("report: writing JSON: %w", err)
	}
	return nil
}

type pointDoc struct {
	X fixed `json:"x_m"`
	Y fixed `json:"y_m"`
	Z fixed `json:"z_m"`
}

func newPointDoc(p r3.Vec) pointDoc { return pointDoc{metres(p.X), metres(p.Y), metres(p.Z)} }

type goalDoc struct {
	From      fixed  `json:"from_hz"`
	To        fixed  `json:"to_hz"`
	Smoothing string `json:"smoothing_octave"`
}

// writeRows writes the rows of a CSV table, the header first.
func writeRows(w io.Writer, rows [][]string) error {
	if err := csv.NewWriter(w).WriteAll(rows); err != nil {
		return fmt.Errorf("report: writing the table: %w", err)
	}
	return nil
}

func digits(v float64) string { return strconv.FormatFloat(v, 'g', 10, 64) }

func level(l model.Level) string {
	if math.IsInf(float64(l), 0) || math.IsNaN(float64(l)) {
		return ""
	}
	return strconv.FormatFloat(round(float64(l), 3), 'f', 3, 64)
}
