package build

import (
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/report/text"
)

// step is one step of building, with the cautions that concern it.
type step struct {
	Title    string
	Lines    []string
	Cautions []text.Caution
}

// has reports whether the plan has a piece of a kind.
func (b *Report) has(kinds ...build.Kind) bool {
	return slices.ContainsFunc(b.Plan.Pieces, func(p build.Piece) bool { return slices.Contains(kinds, p.Kind) })
}

func (b *Report) rental() bool { return b.Project.Stock != nil && b.Project.Stock.Rental }

// steps are what to do in which order. How to do it is common practice, no source.
func (b *Report) steps() []step {
	caution := func(titles ...string) []text.Caution { return text.CautionOf(b.Style, titles...) }
	list := []step{
		{"Buy", append([]string{"Buy one pack first: unpack it, let the wool rise for an hour, and measure a batt."}, b.askFor()...), caution("Fire")},
		{"Carry it in", b.carryLines(), caution("Lifting and toppling")},
		{"Cut the wool", b.woolLines(), caution("Fibres and dust")},
	}
	if f := b.frameLines(); len(f) > 0 {
		list = append(list, step{"Build frames, wrap and cover", f, caution("Fire")})
	}
	if b.has(build.CornerFill) {
		list = append(list, step{"Fill the corners", b.cornerLines(), caution(b.fixing("Heaters, sockets, vents, ways out", "Damp")...)})
	}
	if b.has(build.WallPiece) {
		list = append(list, step{"Hang the panels on the walls", b.wallLines(), caution(b.fixing("Heaters, sockets, vents, ways out", "Damp", "Lifting and toppling")...)})
	}
	if b.has(build.CloudPiece) {
		list = append(list, step{"Hang the cloud", b.cloudLines(), caution(b.fixing("Loads over heads")...)})
	}
	if b.has(build.CeilingPiece) {
		list = append(list, step{"Fix the panels to the ceiling", b.ceilingLines(), caution(b.fixing("Loads over heads", "Lifting and toppling")...)})
	}
	if b.has(build.FreePanel, build.Bag) {
		list = append(list, step{"Set up the rest", []string{
			"Keep a path of " + b.Style.Join("80 to 90 cm", "32 to 36 in") + " to the door free, and the door's swing.",
			"Tie anything taller than " + b.Style.Join("1.2 m", "4 ft") + " to something that stands firm, or give it a foot a third as deep as it is high.",
		}, caution("Lifting and toppling", "Heaters, sockets, vents, ways out")})
	}
	return list
}

// fixing returns the titles of cautions for a step that fixes pieces to the room: drilling first, unless the room
// is rented and nothing is drilled.
func (b *Report) fixing(titles ...string) []string {
	if b.rental() {
		return titles
	}
	return append([]string{"Drilling"}, titles...)
}

func (b *Report) carryLines() []string {
	two := 0
	for _, p := range b.Plan.Pieces {
		if p.Persons > 1 {
			two++
		}
	}
	lines := []string{"Carry the wool in as batts, and build the pieces where they stay."}
	if two > 0 {
		need := "need"
		if two == 1 {
			need = "needs"
		}
		lines = append(lines, fmt.Sprintf("%s %s two people: anything over about %s long, hung overhead or cut along a slope.",
			text.Count(two, "piece"), need, b.Style.Join("15 kg or 2 m", "35 lb or 6 ft")))
	}
	if s := b.Project.Stock; s != nil && s.Passage.Given() {
		lines = append(lines, "All pieces were checked against the door and stair of the room file; \"Keep in mind\" names those that do not pass.")
	}
	return lines
}

func (b *Report) woolLines() []string {
	lines := []string{
		"Lay the batt on a flat board and press a straight lath on the line. Draw a long serrated knife along it, away from your body.",
		"Cut in the order of the numbers on the drawings, and write the mark on each part.",
	}
	if b.trimmed() {
		lines = append(lines, "Before a slanting cut, take the angle off the wall with a sliding bevel: slopes are seldom straight. Mark both heights on the batt's edges, join them, and keep the hand that holds the lath behind the blade.",
			"A batt has no front: turn a part over if its slope leans the wrong way.")
	}
	if slices.ContainsFunc(b.Plan.Pieces, func(p build.Piece) bool { return p.Pressed }) {
		lines = append(lines, fmt.Sprintf("Some batts or parts are up to %s larger than the piece that they go into: press them in, do not trim them.", b.Style.Join("2 cm", "3/4 in")))
	}
	return append(lines, "Cut outdoors or by an open window, and vacuum instead of sweeping.")
}

func (b *Report) frameLines() []string {
	var lines []string
	if t := b.Plan.Timber; t != nil && len(t.Members) > 0 {
		lines = append(lines, "Cut frame parts to the batten list. Uprights run full height, rails fit between, battens on edge. A deep piece has a ring in front, one behind, and four posts between.",
			"Cover the back with cloth or net, never plywood. Put no power strip inside.")
		if b.trimmed() {
			lines = append(lines, "Under a slope, cut the sloped rails and the tops of the uprights to the angles of the list. Hold the first frame to the wall before you cut the next. Clamp each batten to saw it, and wear goggles.")
		}
	}
	if slices.ContainsFunc(b.Plan.Films, func(f build.RollUse) bool { return len(f.Shapes) > 0 }) {
		lines = append(lines, "Lay the film on loosely, with 1 to 2 % of slack, so that it can move; tape it to itself at the sides.")
	}
	for i, p := range b.Plan.Pieces {
		if w := p.Wrapping; w != nil {
			from := "film from the roll"
			if w.Bag >= 0 {
				from = text.Printable(b.Plan.Bags[w.Bag].Bag.Title())
			}
			lines = append(lines, fmt.Sprintf("%s: wrap %s in %s; it is %s round the slabs and takes %s along them with folds and seams. Press the air out, fold the ends, and close them with %s of tape.",
				b.mark(i), text.Count(p.Slabs, "slab"), from, b.Style.Tape(w.Girth), b.Style.Tape(w.Length), b.Style.Tape(w.Tape)))
		}
	}
	if b.trimmed() && len(b.Plan.Films)+len(b.Plan.Cloths) > 0 {
		lines = append(lines, "Cut film and cloth for a slanting edge as rectangles first. Leave as much beyond that edge as beyond the others, and fold the sharp corner last.")
	}
	if len(b.Plan.Cloths) > 0 {
		lines = append(lines, "Stretch the cloth from the middle of each side outwards, with a staple every "+b.Style.Join("3 to 5 cm", "1 to 2 in")+
			", the corners last. You must be able to breathe through it.")
	}
	return lines
}

func (b *Report) cornerLines() []string {
	lines := []string{
		"Notch the lowest layers for the skirting board. Stagger the joints; no glue is needed.",
		"Put the firmest batts at the bottom, and a lath or net across every " + b.Style.Join("60 cm", "2 ft") + ": soft wool settles by 5 to 15 %.",
	}
	if b.rental() {
		return append(lines, "Hold the face with poles braced between floor and ceiling. Drill no holes.")
	}
	return append(lines, "Screw the rails of the face to the walls with angles; find cables and pipes first.")
}

func (b *Report) wallLines() []string {
	if b.rental() {
		return []string{
			"Drill no holes. Stand lower pieces on the floor. Hang upper ones from poles braced between floor and ceiling, or stand them on the lower ones and strap them to the poles.",
			"Put felt under poles and feet, and check that the ceiling bears the pressure.",
		}
	}
	lines := []string{
		"Mark the lower edges with a level, from the drawings of the walls. Find studs, cables and pipes before you drill.",
		"Use at least two hooks for each piece, each able to carry it alone, with plugs that suit the wall.",
	}
	if b.trimmed() {
		lines = append(lines, "A piece cut along a slope cannot be lifted onto hooks. One person pushes it up under the slope and holds it, "+
			b.Style.Thickness(model.SlopeClearance)+" clear; the other screws the angles to the wall and to the uprights. Rafters, cables and pipes run behind a slope: drill into the wall, not into the slope.")
	}
	return lines
}

func (b *Report) ceilingLines() []string {
	if b.rental() {
		return []string{"A rented room allows no holes: leave the ceiling panels out."}
	}
	return []string{
		"Find the joists or rafters, or concrete: board alone does not carry a panel. Screw through the frame, and hang the safety wire on a hook of its own before you let go.",
		"One person holds the panel with a prop while the other screws. On a slope begin at its lower edge.",
	}
}

func (b *Report) cloudLines() []string {
	if b.rental() {
		return []string{"A rented room allows no holes: leave the cloud out, or stand it on a frame of its own."}
	}
	return []string{
		"Find the joists, or concrete: board alone does not carry it. Use four closed hooks for each piece, rated for five times the load.",
		"Hang the safety wire on a hook of its own before you let go of the piece.",
	}
}

// faces are the walls that carry a piece, the ceiling last.
func (b *Report) faces() []model.Face {
	var list []model.Face
	for _, f := range []model.Face{model.Front, model.Back, model.Left, model.Right, model.Ceiling} {
		if len(b.on(f)) > 0 {
			list = append(list, f)
		}
	}
	return list
}
