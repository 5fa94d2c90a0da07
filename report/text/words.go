package text

import (
	"fmt"
	"strings"

	"github.com/rivo/uniseg"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/unit"
)

// RoomLine names the room with its sizes.
func RoomLine(p *model.Project, s unit.Style) string {
	r := &p.Room
	name := Printable(r.Name)
	if strings.TrimSpace(name) == "" {
		name = "Unnamed room"
	}
	return Wrap(fmt.Sprintf("%s: %s long, %s wide, %s high, %s, %s", name,
		s.Length(r.Size.X), s.Length(r.Size.Y), s.Length(r.Size.Z), s.Volume(r.Volume()), s.Temperature(r.Temperature)), Columns, "  ")
}

func ChannelText(c response.Channel) string {
	if c == response.BothTogether {
		return "both speakers together"
	}
	return c.String() + " speaker"
}

// ProjectWarnings returns the warnings of a project for data that have no units to choose:
// the rules that the present places break, then all others.
func ProjectWarnings(p *model.Project) []model.Warning {
	var list []model.Warning
	for _, line := range PresentBreaches(p, unit.Metric) {
		list = append(list, model.Remark("as things stand, "+line))
	}
	return append(list, p.Warnings...)
}

func RoomName(name string) string {
	if name = strings.TrimSpace(Printable(name)); name == "" {
		return "Unnamed room"
	}
	return name
}

// SizesText is the room's length, width and height.
func SizesText(r *model.Room, s unit.Style) string {
	return fmt.Sprintf("%s × %s × %s", s.Length(r.Size.X), s.Length(r.Size.Y), s.Length(r.Size.Z))
}

func OpeningName(o model.Opening) string {
	if o.Name != "" {
		return o.Name
	}
	return o.Kind
}

// Trust says how far to trust an engine's figures.
func Trust(engine model.EngineInfo, why string) string {
	const common = " Furniture outside the room file, people and open doors are left out. Ignore differences under 1 dB in level and 0.5 dB in spread, and measure before you spend money."
	var text string
	switch engine.Kind {
	case model.ModeEngine:
		text = "Calculated from the room's modes. This is exact for an empty rectangular room with uniform, known walls; " +
			"the biggest uncertainty is what your walls really absorb."
	case model.ImageEngine:
		text = "Calculated from mirror images of the speakers. This works well in hard rectangular rooms; where walls absorb much, " +
			"some dips are wrong by several dB."
	case model.WaveEngine:
		text = "Calculated on a grid from the room file. " + gridError(engine.Errors) + "walls and wool are the bigger uncertainty."
	default:
		text = fmt.Sprintf("Calculated by the engine %q.", engine.Kind)
	}
	if why != "" {
		text += fmt.Sprintf(" The %s engine was chosen because %s.", engine.Kind, why)
	}
	return text + common
}

// gridError says how the error of a grid grows; without claims, that it is not known.
func gridError(claims []model.ErrorClaim) string {
	if len(claims) == 0 {
		return "How far the grid is off was not measured for cells of this size; "
	}
	low, high := claims[0], claims[len(claims)-1]
	return fmt.Sprintf("Grid error grows from %.2g dB below %.0f Hz to about %.2g dB at %.0f Hz; ",
		float64(low.Error), low.Frequency, float64(high.Error), high.Frequency)
}

// Moves says how to get from one place to another on the floor: "23 cm towards
// the back wall and 5 cm towards the left wall".
func Moves(from, to r3.Vec, s unit.Style) string {
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
	return And(parts)
}

// NowName names the present layout in every chart.
const NowName = "now"

func LayoutName(n int) string { return fmt.Sprintf("layout %d", n) }

// LetterName returns a, b, ... z, aa, ab, ...
func LetterName(n int) string {
	if n < 26 {
		return string(rune('a' + n))
	}
	return LetterName(n/26-1) + LetterName(n%26)
}

// Noticeable is the least gain in spread, dB, for which the verdict advises a move.
// Common practice, no source: the uncertainty of walls and tape exceeds a smaller gain.
const Noticeable = 1.0

// Count writes a number of things: "1 piece", "3 pieces", "2 packs of 8".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	first, rest, of := strings.Cut(thing, " of ")
	if of {
		rest = " of " + rest
	}
	return fmt.Sprintf("%d %ss%s", n, first, rest)
}

// OrElse returns a name that is fit to print, or another where there is none.
func OrElse(name, other string) string {
	if name == "" {
		return other
	}
	return Printable(name)
}

// Shortened returns the beginning of words that are wider than so many columns, with a mark
// for what is left out.
func Shortened(words string, columns int) string {
	if uniseg.StringWidth(words) <= columns {
		return words
	}
	out, width := "", 1
	for g := uniseg.NewGraphemes(words); g.Next(); {
		if width += g.Width(); width > columns {
			break
		}
		out += g.Str()
	}
	return strings.TrimRight(out, " ") + "…"
}

// PointText writes a highest or lowest point in one line: "-12.3 dB at 64.2 Hz".
func PointText(e response.Extreme) string {
	return unit.Decibels(e.Level) + " at " + unit.Frequency(e.Frequency)
}
