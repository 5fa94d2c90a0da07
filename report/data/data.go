package data

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Fixed is a number rounded to so many decimals in JSON; null if it is not
// finite.
type Fixed struct {
	value  float64
	places int
}

// Rounded returns a number with so many decimals.
func Rounded(v float64, places int) Fixed { return Fixed{value: v, places: places} }

func Metres(v float64) Fixed { return Rounded(v, 4) }

func Hertz(v float64) Fixed { return Rounded(v, 3) }

func Decibel(v model.Level) Fixed { return Rounded(float64(v), 2) }

// MarshalJSON writes the shortest form of the rounded number.
func (f Fixed) MarshalJSON() ([]byte, error) {
	if math.IsNaN(f.value) || math.IsInf(f.value, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, unit.Round(f.value, f.places), 'f', -1, 64), nil
}

// WriteJSON writes a document indented by a space a level.
func WriteJSON(w io.Writer, doc any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	if err := enc.Encode(doc); err != nil {
		return fmt.Errorf("report: writing JSON: %w", err)
	}
	return nil
}

type Point struct {
	X Fixed `json:"x_m"`
	Y Fixed `json:"y_m"`
	Z Fixed `json:"z_m"`
}

func NewPoint(p r3.Vec) Point { return Point{Metres(p.X), Metres(p.Y), Metres(p.Z)} }

type Goal struct {
	From      Fixed  `json:"from_hz"`
	To        Fixed  `json:"to_hz"`
	Smoothing string `json:"smoothing_octave"`
}

// NewGoal returns a goal as JSON holds it.
func NewGoal(g model.Goal) Goal {
	return Goal{From: Hertz(g.From), To: Hertz(g.To), Smoothing: fmt.Sprintf("1/%d", g.Smoothing)}
}

// Head opens a document in JSON.
type Head struct {
	Format  string           `json:"format"`
	Version string           `json:"version"`
	Command string           `json:"command"`
	Engine  model.EngineKind `json:"engine"`
	Room    string           `json:"room"` // its name
	Goal    Goal             `json:"goal"`
}

// Layout is a layout in JSON.
type Layout struct {
	Left  Point `json:"left"`
	Right Point `json:"right"`
	Seat  Point `json:"seat"`
}

// NewLayout returns a layout as JSON holds it.
func NewLayout(l model.Layout) Layout {
	return Layout{NewPoint(l.Left), NewPoint(l.Right), NewPoint(l.Seat)}
}

// NewGrid returns frequencies as JSON holds them.
func NewGrid(g model.Grid) []Fixed {
	out := make([]Fixed, len(g))
	for i, f := range g {
		out[i] = Hertz(f)
	}
	return out
}

// WriteRows writes the rows of a CSV table, the header first.
func WriteRows(w io.Writer, rows [][]string) error {
	if err := csv.NewWriter(w).WriteAll(rows); err != nil {
		return fmt.Errorf("report: writing the table: %w", err)
	}
	return nil
}

func Digits(v float64) string { return strconv.FormatFloat(v, 'g', 10, 64) }

func Level(l model.Level) string {
	if math.IsInf(float64(l), 0) || math.IsNaN(float64(l)) {
		return ""
	}
	return strconv.FormatFloat(unit.Round(float64(l), 3), 'f', 3, 64)
}

// Walls is the spread with walls that absorb as little and as much as is likely.
type Walls struct {
	Hard Fixed `json:"hard"`
	Soft Fixed `json:"soft"`
}

type Channels struct {
	Left  Channel `json:"left"`
	Right Channel `json:"right"`
	Both  Channel `json:"both"`
}

type Channel struct {
	Spread    Fixed   `json:"spread_db"`
	Deviation Fixed   `json:"deviation_db"`
	Mean      Fixed   `json:"mean_db"`
	Highest   Extreme `json:"highest"`
	Lowest    Extreme `json:"lowest"`
	Reach     Fixed   `json:"reach_hz"`
	Level     []Fixed `json:"level_db"`
}

type Extreme struct {
	Frequency Fixed `json:"frequency_hz"`
	Level     Fixed `json:"level_re_mean_db"`
}

func NewChannel(f response.Figures, curve []model.Level) Channel {
	d := Channel{
		Spread: Decibel(f.Spread), Deviation: Decibel(f.Deviation), Mean: Decibel(f.Mean), Reach: Hertz(f.Reach),
		Highest: Extreme{Hertz(f.Highest.Frequency), Decibel(f.Highest.Level)},
		Lowest:  Extreme{Hertz(f.Lowest.Frequency), Decibel(f.Lowest.Level)},
		Level:   make([]Fixed, len(curve)),
	}
	for i, l := range curve {
		d.Level[i] = Decibel(l)
	}
	return d
}

// SafeCell keeps a spreadsheet from taking a name for a formula.
func SafeCell(name string) string {
	name = text.Printable(name)
	if strings.ContainsAny(name[:min(1, len(name))], "=+-@") {
		return "'" + name
	}
	return name
}
