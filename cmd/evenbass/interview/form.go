package interview

import (
	"errors"
	"fmt"
	"strings"

	"evenbass/model/roomfile/quantity"
)

// form holds the answers, as they were typed.
type form struct {
	name                  string
	length, width, height string
	outline               [][2]string // corners: from the front wall, from the left wall
	rises, low, over      string      // a sloped ceiling; no rises is level
	walls, floor, ceiling string
	box                   [3]string // depth, width, height
	speakersAt, apart, up string    // of the woofers; "" is nowhere yet
	seatAt, ears          string    // seatAt "" is nowhere yet
	furniture             []piece
}

// piece is a piece of furniture: its corner nearest to the front left corner of the floor, and its sizes.
type piece struct {
	kind                 string
	x, y                 string // from the front wall, from the left wall
	depth, width, height string
}

// newPiece reads "sofa, 3.1 m, 0.7 m, 90 cm x 200 cm x 85 cm".
func newPiece(typed string) (piece, error) {
	parts := strings.FieldsFunc(typed, func(r rune) bool { return r == ',' || r == 'x' || r == '×' })
	if len(parts) != 6 || len(strings.Fields(parts[0])) != 1 {
		return piece{}, errors.New("give a kind, two distances and three sizes, such as sofa, 3.1 m, 0.7 m, 90 cm x 200 cm x 85 cm")
	}
	for i := range parts {
		if parts[i] = strings.TrimSpace(parts[i]); i == 0 {
			continue
		}
		if _, err := quantity.ParseLength(parts[i]); err != nil {
			return piece{}, err
		}
	}
	return piece{parts[0], parts[1], parts[2], parts[3], parts[4], parts[5]}, nil
}

// far returns the corner opposite to the one that is given, on the floor.
func (p piece) far() (x, y float64) {
	return metres(p.x) + metres(p.depth), metres(p.y) + metres(p.width)
}

// newForm returns the values that the file has until the owner answers.
func newForm() *form {
	return &form{
		name: "My room", length: "4.2 m", width: "3.3 m", height: "2.4 m", walls: "unknown", floor: "unknown", ceiling: "unknown",
		box: [3]string{"28 cm", "21 cm", "34 cm"}, apart: "1.4 m", up: "1.05 m", ears: "1.2 m",
	}
}

// metres reads a length that has been accepted.
func metres(typed string) float64 {
	v, _ := quantity.ParseLength(typed)
	return v
}

// isImperial reports whether a length was typed in feet or inches.
func isImperial(typed string) bool {
	return strings.ContainsAny(typed, `'"`) || strings.Contains(typed, "ft") || strings.Contains(typed, "in")
}

// like writes a length in m in the unit of one that was typed.
func like(typed string, v float64) string {
	if isImperial(typed) {
		return fmt.Sprintf("%.1f in", v/0.0254)
	}
	return fmt.Sprintf("%.2f m", v)
}

// text is the room file.
func (f *form) text() string {
	var b strings.Builder
	b.WriteString("# Lengths may be written as 3.4 m, 340 cm, 11 ft 2 in. Places are [from the front wall, from the\n" +
		"# left wall, above the floor]; the front wall is the one that you face. `evenbass new` with sizes\n" +
		"# as flags writes a file that explains all other keys.\n")
	fmt.Fprintf(&b, "room:\n  name: %q\n  length: %q\n  width: %q\n  height: %q\n", f.name, f.length, f.width, f.height)
	if len(f.outline) > 0 {
		b.WriteString("  outline:\n")
		for _, c := range f.outline {
			fmt.Fprintf(&b, "    - [%q, %q]\n", c[0], c[1])
		}
	}
	if f.rises != "" {
		fmt.Fprintf(&b, "ceiling:\n  slope: {rises: %s, from: %q, to: %q, over: %q}\n", f.rises, f.low, f.height, f.over)
	}
	b.WriteString("walls:\n")
	for _, wall := range []string{"front", "back", "left", "right"} {
		fmt.Fprintf(&b, "  %s: %q\n", wall, f.walls)
	}
	fmt.Fprintf(&b, "  floor: %q\n  ceiling: %q\n", f.floor, f.ceiling)
	for i, p := range f.furniture {
		if i == 0 {
			b.WriteString("furniture:\n")
		}
		x, y := p.far()
		fmt.Fprintf(&b, "  - {kind: %q, from: [%q, %q, 0 m], to: [%q, %q, %q]}\n", p.kind, p.x, p.y, like(p.x, x), like(p.y, y), p.height)
	}
	b.WriteString("speakers:\n")
	if f.speakersAt != "" {
		half, middle := metres(f.apart)/2, metres(f.width)/2
		fmt.Fprintf(&b, "  now: {left: [%q, %q, %q], right: [%q, %q, %q]}\n",
			f.speakersAt, like(f.apart, middle-half), f.up, f.speakersAt, like(f.apart, middle+half), f.up)
	}
	fmt.Fprintf(&b, "  box: {depth: %q, width: %q, height: %q}\nseats:\n  - name: chair\n    height: %q\n", f.box[0], f.box[1], f.box[2], f.ears)
	if f.seatAt != "" {
		fmt.Fprintf(&b, "    at: [%q, %q, %q]\n", f.seatAt, like(f.seatAt, metres(f.width)/2), f.ears)
	}
	long, wide := metres(f.length), metres(f.width)
	zone := fmt.Sprintf("x: \"%s to %s\"", like(f.length, 0.3*long), like(f.length, 0.7*long))
	if len(f.outline) > 0 {
		zone += fmt.Sprintf(", y: \"%s to %s\"", like(f.width, 0.2*wide), like(f.width, 0.8*wide))
	}
	fmt.Fprintf(&b, "    may_move: [{%s}]\n", zone)
	return b.String()
}
