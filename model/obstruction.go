package model

// ObstructionKind says what prevents building a treatment.
type ObstructionKind int

// The kinds of obstructions.
const (
	NoObstruction  ObstructionKind = iota
	BeyondCover                    // it leaves what may be covered of a wall
	TooDeep                        // it stands out from a wall farther than allowed there
	CoversOpening                  // it covers an opening
	TakesFreeSpace                 // it takes what the stock says must stay free
	InsideBlock                    // it would be inside a solid block
	InKeptClear                    // it stands in what is kept clear
	InSwing                        // it stands in the swing of a door
)

// Obstruction is one thing that prevents building a treatment. Package report puts it into words.
type Obstruction struct {
	Kind           ObstructionKind
	Name           string  // of the block or of what must stay free; the kind of the opening
	Wall           string  // that it is in or on: "left wall", or a wall of the owner's
	Depth, Allowed float64 // of what is too deep, m
}

// Obstructions lists what prevents building a treatment. An empty list means that it may be built.
// A project without stock allows all surfaces.
func (p *Project) Obstructions(t *Treatment) []Obstruction {
	stock := p.Stock
	if stock == nil {
		stock = &Stock{}
	}
	var out []Obstruction
	for _, patch := range p.Room.Footprints(t) {
		if why, ok := stock.uncovered(patch, t.standOut()); ok {
			out = append(out, why)
		}
		for i := range p.Room.Openings {
			o := &p.Room.Openings[i]
			if in, _ := p.Room.BorderPatch(o); patch.Overlap(in) > slack {
				out = append(out, Obstruction{Kind: CoversOpening, Name: o.Kind, Wall: p.Room.OpeningWall(o)})
			}
		}
	}
	return append(out, p.inTheWay(stock, p.Room.Space(t))...)
}

// Blocked is a piece of an option that may not be where the option puts it.
type Blocked struct {
	Piece string // its name, or where it is
	Obstruction
}

// Blocks lists what an option's pieces would block: openings, door swings, solid blocks, what is
// kept clear and what must stay free. What the owner merely does not want covered is not among
// them. An option that cannot be carried out blocks nothing, see [Project.With].
func (p *Project) Blocks(o *Option) []Blocked {
	q, origin, problem := p.with(o, "option")
	if problem.Text != "" {
		return nil
	}
	var list []Blocked
	for i, from := range origin {
		if from == "" {
			continue // it stands there already
		}
		t := &q.Room.Treatments[i]
		name := t.Name
		if name == "" {
			name = "the treatment " + t.Where()
		}
		for _, b := range q.Obstructions(t) {
			if b.Kind != BeyondCover && b.Kind != TooDeep {
				list = append(list, Blocked{name, b})
			}
		}
	}
	return list
}

// BlockedOption is an option that would block what must stay usable.
type BlockedOption struct {
	Option string // its name
	By     Blocked
}

// Allowed parts options into those that block nothing, see [Project.Blocks], and the others, each
// with the first of what it blocks.
func (p *Project) Allowed(options []Option) (allowed []Option, blocked []BlockedOption) {
	for _, o := range options {
		if by := p.Blocks(&o); len(by) > 0 {
			blocked = append(blocked, BlockedOption{o.Name, by[0]})
			continue
		}
		allowed = append(allowed, o)
	}
	return allowed, blocked
}

// inTheWay lists what a block would stand in.
func (p *Project) inTheWay(stock *Stock, space Block) []Obstruction {
	var out []Obstruction
	for _, k := range stock.Free {
		b := k.Block
		if k.OnWall {
			b = p.Room.inFront(k.Patch, 0.01)
		}
		if space.Overlaps(b) {
			out = append(out, Obstruction{Kind: TakesFreeSpace, Name: k.Name})
		}
	}
	for _, b := range p.Room.Blocks {
		if space.Overlaps(b) {
			out = append(out, Obstruction{Kind: InsideBlock, Name: b.Name})
		}
	}
	for _, b := range p.KeepClear {
		if space.Overlaps(b) {
			out = append(out, Obstruction{Kind: InKeptClear, Name: b.Name})
		}
	}
	for i := range p.Room.Openings {
		o := &p.Room.Openings[i]
		b, ok := p.Room.swing(o)
		b.Max.Z = o.Patch.Height // above the leaf there may be something
		if ok && space.Overlaps(b) {
			out = append(out, Obstruction{Kind: InSwing, Wall: p.Room.OpeningWall(o)})
		}
	}
	return out
}

// uncovered says why a patch may not be covered that deep; false if it may.
func (s *Stock) uncovered(p Patch, depth float64) (Obstruction, bool) {
	if len(s.Cover) == 0 {
		return Obstruction{}, false
	}
	deepest := -1.0
	for _, c := range s.Cover {
		if c.Patch.Overlap(p) < p.Area()-slack {
			continue
		}
		if c.Deepest == 0 || depth <= c.Deepest+slack {
			return Obstruction{}, false
		}
		deepest = max(deepest, c.Deepest)
	}
	if deepest > 0 {
		return Obstruction{Kind: TooDeep, Wall: p.Face.Wall(), Depth: depth, Allowed: deepest}, true
	}
	return Obstruction{Kind: BeyondCover, Wall: p.Face.Wall()}, true
}
