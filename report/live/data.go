package live

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/geometry"
	"evenbass/optimize/series"
	"evenbass/report/card"
)

// data is what the scripts read. Lengths are in m, frequencies in Hz.
type data struct {
	Field    field    `json:"field"`
	Goal     goal     `json:"goal"`
	Rules    rules    `json:"rules"`
	Options  []string `json:"options,omitempty"` // names
	Builds   []build  `json:"builds,omitempty"`
	Layouts  []layout `json:"layouts"`
	Start    int      `json:"start"`
	Modes    []Mode   `json:"modes,omitempty"`
	Walls    []wall   `json:"walls,omitempty"` // those of a plain box, which mirror the speakers
	Middle   *float64 `json:"middle"`          // y about which the pair is mirrored; null for a free pair
	Channels []string `json:"channels"`
	RollOff  rollOff  `json:"rollOff"`

	Resolution map[string]float64 `json:"resolution"` // by key of the figure
	Signs      []string           `json:"signs"`      // no difference, better, worse
	Units      string             `json:"units"`
}

// field is the packed table; see field.js.
type field struct {
	Grid    []float64 `json:"grid"`
	Speed   float64   `json:"speed"`
	Density float64   `json:"density"`
	Loss    float64   `json:"loss"`
	Step    []float64 `json:"step"`
	Seats   panel     `json:"seats"`
	Panels  []panel   `json:"panels"`
	Heights []float64 `json:"heights"`
	Numbers string    `json:"numbers"`
}

// build is a room with options carried out, by their places in the list of names.
type build struct {
	Parts []int `json:"parts"`
	Field field `json:"field"`
}

// panel is the spans of an area and the terms of the series over them.
type panel struct {
	X     [2]float64 `json:"x"`
	Y     [2]float64 `json:"y"`
	Z     float64    `json:"z,omitempty"` // of the ears
	Terms [2]int     `json:"terms"`
}

type goal struct {
	From      float64 `json:"from"`
	To        float64 `json:"to"`
	Smoothing int     `json:"smoothing"`
}

// rollOff is how the speakers fall at low frequencies.
type rollOff struct {
	Limit float64 `json:"limit"` // Hz at -3 dB; 0 is none
	Order int     `json:"order"`
}

type place struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	Z float64 `json:"z"`
}

// layout is a layout to start from.
type layout struct {
	Name  string `json:"name"`
	Left  place  `json:"left"`
	Right place  `json:"right"`
	Seat  place  `json:"seat"`
}

// wall is a boundary of a box: the axis that it is square to, and where.
type wall struct {
	Name string  `json:"name"`
	Axis string  `json:"axis"`
	At   float64 `json:"at"`
}

// newField packs a table for the scripts.
func newField(t *series.Table) (field, error) {
	packed, err := t.Packed()
	if err != nil {
		return field{}, err
	}
	f := field{
		Grid: t.Grid(), Speed: t.Air().Speed, Density: t.Air().Density, Loss: t.Air().Loss, Step: t.Step,
		Seats:   panel{X: ends(t.Domain.Seats.X), Y: ends(t.Domain.Seats.Y), Z: t.Domain.Ears, Terms: t.Seats},
		Heights: t.Domain.Heights, Numbers: base64.StdEncoding.EncodeToString(packed),
	}
	for i, a := range t.Domain.Sources {
		f.Panels = append(f.Panels, panel{X: ends(a.X), Y: ends(a.Y), Terms: t.Panels[i]})
	}
	return f, nil
}

func newData(r *Report) (json.RawMessage, error) {
	g := r.Project.Goal
	d := data{
		Goal: goal{g.From, g.To, g.Smoothing}, Rules: newRules(r.Project), Start: r.Start, Modes: r.Modes,
		Channels: channelNames(), Units: r.Style.String(), Resolution: map[string]float64{}, Options: r.optionNames(),
		RollOff: rollOff{r.Project.Speakers.LowLimit, r.Project.Speakers.Alignment.Order()},
		Signs:   []string{card.Signs[response.NoDifference], card.Signs[response.Better], card.Signs[response.Worse]},
	}
	var err error
	if d.Field, err = newField(r.Table); err != nil {
		return nil, err
	}
	for _, o := range r.Options {
		f, err := newField(o.Table)
		if err != nil {
			return nil, err
		}
		b := build{Field: f}
		for _, name := range o.Names {
			b.Parts = append(b.Parts, slices.Index(d.Options, name))
		}
		d.Builds = append(d.Builds, b)
	}
	for _, f := range figures {
		d.Resolution[f.key] = r.Resolution[f.figure]
	}
	for _, l := range r.Layouts {
		d.Layouts = append(d.Layouts, layout{l.Name, placeOf(l.Layout.Left), placeOf(l.Layout.Right), placeOf(l.Layout.Seat)})
	}
	if !r.free() {
		middle := r.Project.Room.Size.Y / 2
		d.Middle = &middle
	}
	if size := r.Project.Room.Size; r.Project.Room.Plain() {
		d.Walls = []wall{
			{"front wall", "x", 0}, {"back wall", "x", size.X}, {"left wall", "y", 0}, {"right wall", "y", size.Y}, {"floor", "z", 0}, {"ceiling", "z", size.Z},
		}
	}
	raw, err := json.Marshal(d)
	if err != nil {
		return nil, fmt.Errorf("report: the data of moving places: %w", err)
	}
	return raw, nil
}

func ends(s geometry.Span) [2]float64 { return [2]float64{s.Lo, s.Hi} }

func placeOf(v r3.Vec) place { return place{v.X, v.Y, v.Z} }

func vector(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// areaBlock returns an area as a block on the floor.
func areaBlock(a geometry.Area) model.Block {
	return model.Block{Min: r3.Vec{X: a.X.Lo, Y: a.Y.Lo}, Max: r3.Vec{X: a.X.Hi, Y: a.Y.Hi}}
}
