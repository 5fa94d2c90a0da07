package report

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
)

// roomLine names the room with its sizes.
func roomLine(p *model.Project, s Style) string {
	r := &p.Room
	name := printable(r.Name)
	if strings.TrimSpace(name) == "" {
		name = "Unnamed room"
	}
	return wrap(fmt.Sprintf("%s: %s long, %s wide, %s high, %s, %s", name,
		s.Length(r.Size.X), s.Length(r.Size.Y), s.Length(r.Size.Z), s.Volume(r.Volume()), s.Temperature(r.Temperature)), columns, "  ")
}

func channelText(c response.Channel) string {
	if c == response.BothTogether {
		return "both speakers together"
	}
	return c.String() + " speaker"
}

// breachLines names the rules that a layout breaks.
func breachLines(breaches []model.Breach, s Style) []string {
	var lines []string
	for _, b := range breaches {
		by := s.Tape(b.Amount)
		if b.Angle != 0 {
			by = b.Degrees()
		}
		lines = append(lines, fmt.Sprintf("%s, by %s", b.What, by))
	}
	return lines
}

// presentBreaches names the rules that the present places break, in the reader's units; the
// project's own warnings say it in centimetres.
func presentBreaches(p *model.Project, s Style) []string {
	now, ok := p.Now()
	if !ok {
		return nil
	}
	return breachLines(p.Breaches(now), s)
}

func roomName(name string) string {
	if name = strings.TrimSpace(printable(name)); name == "" {
		return "Unnamed room"
	}
	return name
}

// sizesText is the room's length, width and height.
func sizesText(r *model.Room, s Style) string {
	return fmt.Sprintf("%s × %s × %s", s.Length(r.Size.X), s.Length(r.Size.Y), s.Length(r.Size.Z))
}

func openingName(o model.Opening) string {
	if o.Name != "" {
		return o.Name
	}
	return o.Kind
}

// trust says how far to trust an engine's figures.
func trust(engine, why string) string {
	const common = " Furniture, people and open doors are left out. Ignore differences under 1 dB, and measure before you spend money."
	var text string
	switch engine {
	case "mode":
		text = "Calculated from the room's modes. This is exact for an empty rectangular room with uniform, known walls; " +
			"the biggest uncertainty is what your walls really absorb."
	case "image":
		text = "Calculated from mirror images of the speakers. This works well in hard rectangular rooms; where walls absorb much, " +
			"some dips are wrong by several dB."
	case "wave":
		text = "Calculated on a grid from the room file. Grid error grows from 0.2 dB below 120 Hz to about 1 dB at 300 Hz; " +
			"walls and wool are the bigger uncertainty."
	default:
		text = fmt.Sprintf("Calculated by the engine %q.", engine)
	}
	if why != "" {
		text += fmt.Sprintf(" The %s engine was chosen because %s.", engine, why)
	}
	return text + common
}

// moves says how to get from one place to another on the floor: "23 cm towards
// the back wall, 5 cm towards the left wall".
func moves(from, to r3.Vec, s Style) string {
	var parts []string
	add := func(d float64, ahead, back string) {
		switch {
		case d >= 0.005:
			parts = append(parts, s.Tape(d)+" "+ahead)
		case d <= -0.005:
			parts = append(parts, s.Tape(-d)+" "+back)
		}
	}
	add(to.X-from.X, "towards the back wall", "towards the front wall")
	add(to.Y-from.Y, "towards the right wall", "towards the left wall")
	add(to.Z-from.Z, "up", "down")
	if len(parts) == 0 {
		return "stays"
	}
	return strings.Join(parts, ", ")
}

// nowName names the present layout in every chart.
const nowName = "now"

func layoutName(n int) string { return fmt.Sprintf("layout %d", n) }

// letterName returns a, b, ... z, aa, ab, ...
func letterName(n int) string {
	if n < 26 {
		return string(rune('a' + n))
	}
	return letterName(n/26-1) + letterName(n%26)
}

// noticeable is the least gain in spread, dB, for which the verdict advises a move.
// Common practice, no source: the uncertainty of walls and tape exceeds a smaller gain.
const noticeable = 1.0
