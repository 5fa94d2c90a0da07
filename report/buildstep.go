package report

import (
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/build"
)

// buildStep is one step of building, with the cautions that concern it.
type buildStep struct {
	Title    string
	Lines    []string
	Cautions []caution
}

// has reports whether the plan has a piece of a kind.
func (b *Building) has(kinds ...build.Kind) bool {
	return slices.ContainsFunc(b.Plan.Pieces, func(p build.Piece) bool { return slices.Contains(kinds, p.Kind) })
}

func (b *Building) rental() bool { return b.Project.Stock != nil && b.Project.Stock.Rental }

// steps are what to do in which order. How it is done is common practice, no source.
func (b *Building) steps() []buildStep {
	list := []buildStep{
		{"Buy", append([]string{"Take one pack first, unpack it, let the wool rise for an hour, and measure a bat."}, b.askFor()...), cautionOf("Fire")},
		{"Carry it in", b.carryLines(), cautionOf("Lifting and toppling")},
		{"Cut the wool", []string{
			"Lay the bat on a flat board, press a straight lath down on the line, and draw a long serrated knife along it, away from your body.",
			"Cut in the order of the numbers on the drawings, and write the mark on each part.",
			"Cut outdoors or by an open window, and vacuum instead of sweeping.",
		}, cautionOf("Fibres and dust")},
	}
	if f := b.frameLines(); len(f) > 0 {
		list = append(list, buildStep{"Build frames, wrap and cover", f, cautionOf("Fire")})
	}
	if b.has(build.CornerFill) {
		list = append(list, buildStep{"Fill the corners", b.cornerLines(), cautionOf("Heaters, sockets, vents, ways out", "Damp")})
	}
	if b.has(build.WallPiece) {
		list = append(list, buildStep{"Put the panels on the walls", b.wallLines(), cautionOf("Heaters, sockets, vents, ways out", "Electricity", "Damp", "Lifting and toppling")})
	}
	if b.has(build.CloudPiece) {
		list = append(list, buildStep{"Hang the cloud", b.cloudLines(), cautionOf("Loads over heads", "Electricity")})
	}
	if b.has(build.FreePanel, build.Bag) {
		list = append(list, buildStep{"Stand the rest", []string{
			"Keep a path of 80 to 90 cm to the door, and the door's swing, free.",
			"Tie whatever is taller than 1.2 m to something that stands, or give it a foot a third as deep as it is high.",
		}, cautionOf("Lifting and toppling", "Heaters, sockets, vents, ways out")})
	}
	return list
}

func (b *Building) carryLines() []string {
	two := 0
	for _, p := range b.Plan.Pieces {
		if p.Persons > 1 {
			two++
		}
	}
	lines := []string{"Wool goes in as bats and is built where it stays."}
	if two > 0 {
		lines = append(lines, fmt.Sprintf("Two people lift %s: all from about 15 kg or 2 m on, and all that goes over heads.", count(two, "piece")))
	}
	if s := b.Project.Stock; s != nil && s.Passage.Given() {
		lines = append(lines, "All pieces were checked against the door and stair of the room file; what does not pass is named under \"To bear in mind\".")
	}
	return lines
}

func (b *Building) frameLines() []string {
	var lines []string
	if t := b.Plan.Timber; t != nil && len(t.Members) > 0 {
		lines = append(lines, "Saw the members by the list of battens. Uprights run through, rails go between them, battens on edge. A deep piece has a ring in front and one behind, and four posts between them.",
			"The back stays open, or is a net: no plywood.")
	}
	if slices.ContainsFunc(b.Plan.Films, func(f build.RollUse) bool { return len(f.Shapes) > 0 }) {
		lines = append(lines, "Lay the film on loosely, with one to two per cent of slack, so that it can move; tape it to itself at the sides.")
	}
	for i, p := range b.Plan.Pieces {
		if w := p.Wrapping; w != nil {
			from := "film from the roll"
			if w.Bag >= 0 {
				from = printable(b.Plan.Bags[w.Bag].Bag.Title())
			}
			lines = append(lines, fmt.Sprintf("%s: %s into %s; round the slabs it is %s, along them it takes %s with folds and seams. Press the air out, fold the ends, close them with %s of tape.",
				b.mark(i), count(p.Slabs, "slab"), from, b.Style.Tape(w.Girth), b.Style.Tape(w.Length), b.Style.Length(w.Tape)))
		}
	}
	if len(b.Plan.Cloths) > 0 {
		lines = append(lines, "Stretch the cloth from the middle of each side outwards, a staple every 3 to 5 cm, the corners last. It must let breath through.")
	}
	return lines
}

func (b *Building) cornerLines() []string {
	lines := []string{
		"Notch the lowest layers for the skirting board. Stagger the joints; no glue is needed.",
		"Put the firmest bats at the bottom, and a lath or net across every 60 cm, for soft wool settles by 5 to 15 %.",
	}
	if b.rental() {
		return append(lines, "Hold the face by poles braced between floor and ceiling. No holes.")
	}
	return append(lines, "Screw the rails of the face to the walls by angles; find cables and pipes first.")
}

func (b *Building) wallLines() []string {
	if b.rental() {
		return []string{
			"No holes: lower pieces stand on the floor and lean on nothing; upper ones hang from poles braced between floor and ceiling, or stand on the lower ones and are strapped to the poles.",
			"Put felt under poles and feet, and look whether the ceiling bears the pressure.",
		}
	}
	return []string{
		"Mark the lower edges with a level, by the drawings of the walls. Find studs, cables and pipes before drilling.",
		"Two hooks at least for each piece, each able to carry it alone. Use plugs that suit the wall.",
	}
}

func (b *Building) cloudLines() []string {
	if b.rental() {
		return []string{"A rented room allows no holes: leave the cloud out, or stand it on a frame of its own."}
	}
	return []string{
		"Find the joists, or concrete; board alone does not carry it. Four closed hooks each, rated for five times the load.",
		"Hang the safety wire on a hook of its own before the piece is let go.",
	}
}

// faces are the walls on which something is put up, the ceiling last.
func (b *Building) faces() []model.Face {
	var list []model.Face
	for _, f := range []model.Face{model.Front, model.Back, model.Left, model.Right, model.Ceiling} {
		if len(b.on(f)) > 0 {
			list = append(list, f)
		}
	}
	return list
}

// hung is a piece as it shows on a wall.
type hung struct {
	piece int
	patch model.Patch
}

// on returns the pieces on a wall, with the parts of it that they take.
func (b *Building) on(f model.Face) []hung {
	var list []hung
	for i := range b.Plan.Pieces {
		p := &b.Plan.Pieces[i]
		t := b.Project.Room.Treatments[p.Treatment]
		for _, patch := range b.Project.Room.Footprints(&t) {
			if patch.Face != f {
				continue
			}
			if p.Kind != build.CornerFill {
				patch = p.Space.Shadow(f)
			}
			list = append(list, hung{i, patch})
		}
	}
	return list
}

// fixingLine is all that holds a piece, in one line.
func fixingLine(p *build.Piece) string {
	var parts []string
	for _, f := range p.Fixings {
		parts = append(parts, fixingText(f.Count, f.Text))
	}
	if len(parts) == 0 {
		return "stands by itself"
	}
	return strings.Join(parts, "; ")
}
