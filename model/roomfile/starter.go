package roomfile

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"math"
	"text/template"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// StarterSettings holds what an owner knows of a room before measuring more than its
// size.
type StarterSettings struct {
	Name  string
	Size  r3.Vec    // length, width, height in m, each 1.2 to 25
	Walls [6]string // names of constructions by model.Face; "" is unknown
}

//go:embed starter.yaml.tmpl
var starterText string

// Starter writes a room file to begin with: the sizes and walls of the settings, the
// defaults written out, and comments that say what to measure next. What it writes
// reads back without error. Settings that make no room give an error of the kind
// that [Read] gives, and nothing is written.
func Starter(w io.Writer, s StarterSettings) error {
	t, err := template.New("starter").Parse(starterText)
	if err != nil {
		return fmt.Errorf("roomfile: starter: %w", err)
	}
	var b bytes.Buffer
	if err := t.Execute(&b, newStarter(s)); err != nil {
		return fmt.Errorf("roomfile: starter: %w", err)
	}
	if _, err := Read(bytes.NewReader(b.Bytes()), "starter"); err != nil {
		return err
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("roomfile: writing: %w", err)
	}
	return nil
}

// starter holds the values of the template, already as the file writes them.
type starter struct {
	Name                  string
	Length, Width, Height string
	Walls                 []starterWall

	Depth, Across, Tall string // of the box
	Axis                string
	Rear, Side          string

	SeatFrom, SeatTo      string
	Couch, Middle         string // of the examples, which fit rooms from 3.2 by 2.6 m
	SofaFrom, SofaTo      string // likewise, clear of a door in the back wall and of wool on it
	SofaLeft, SofaRight   string
	RightNow, StandTo     string
	Distance, Angle, Back string
	From, To, Smoothing   string
}

type starterWall struct{ Face, Construction string }

func newStarter(s StarterSettings) starter {
	d := defaults()
	d.Speakers.Box = starterBox(s.Size)
	d.Speakers.AxisHeights[0] = min(defaultHeight, centimetres(s.Size.Z/2))
	d.Listening.BackDistance = min(d.Listening.BackDistance, centimetres(s.Size.X/4))
	m := lengthValue.format
	out := starter{
		Name:   quote(s.Name),
		Length: m(s.Size.X), Width: m(s.Size.Y), Height: m(s.Size.Z),
		Depth: m(d.Speakers.Box.Depth), Across: m(d.Speakers.Box.Width), Tall: m(d.Speakers.Box.Height),
		Axis: m(d.Speakers.AxisHeights[0]), Rear: m(d.Speakers.RearClearance), Side: m(d.Speakers.SideClearance),
		SeatFrom: m(centimetres(0.3 * s.Size.X)), SeatTo: m(centimetres(s.Size.X - d.Listening.BackDistance)),
		Couch: m(centimetres(s.Size.X - 0.6)), Middle: m(centimetres(s.Size.Y / 2)),
		SofaFrom: m(centimetres(s.Size.X - 1.2)), SofaTo: m(centimetres(s.Size.X - 0.3)),
		SofaLeft: m(centimetres(s.Size.Y - 1.6)), SofaRight: m(centimetres(s.Size.Y - 0.2)),
		RightNow: m(centimetres(s.Size.Y - 0.9)), StandTo: m(centimetres(s.Size.Y - 0.3)),
		Distance: lengthRange.format(d.Listening.Distance), Angle: angleRange.format(d.Listening.Angle),
		Back: m(d.Listening.BackDistance),
		From: frequencyValue.format(d.Goal.From), To: frequencyValue.format(d.Goal.To),
		Smoothing: smoothingValue.format(d.Goal.Smoothing),
	}
	for _, f := range model.Faces {
		kind := s.Walls[f]
		if kind == "" {
			kind = "unknown"
		}
		out.Walls = append(out.Walls, starterWall{f.String(), quote(kind)})
	}
	return out
}

// starterBox is a box of common size, or a fifth of the smallest side of a room that
// is hardly one.
func starterBox(size r3.Vec) model.Dimensions {
	most := centimetres(min(size.X, size.Y, size.Z) / 5)
	return model.Dimensions{Depth: min(0.28, most), Width: min(0.21, most), Height: min(0.34, most)}
}

// centimetres cuts a length down to a whole number of centimetres.
func centimetres(m float64) float64 { return math.Floor(m*100+1e-6) / 100 }
