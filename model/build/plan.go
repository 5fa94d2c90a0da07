package build

import (
	"cmp"
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/material"
)

// Plan is how the treatments of a room are built.
type Plan struct {
	Pieces []Piece
	Batts  []BattUse  // as in the stock; then those assumed
	Films  []RollUse  // as in the stock; then those assumed
	Cloths []RollUse  // as in the stock
	Bags   []BagUse   // as in the stock
	Timber *TimberUse // nil if the stock has none
	Boards []Board    // sheet goods, which are not nested
	Tape   float64    // m
	Items  []Item     // what it takes, what is in hand and what to buy
	Notes  []Note
}

// Note is a warning, or an assumption where the owner left something open.
type Note struct {
	Treatment int // index into the room's treatments; -1 for all
	Words     Words

	// Obstruction is what prevents building the treatment, without Words.
	Obstruction model.Obstruction
}

// BattUse is what becomes of one sort of batts.
type BattUse struct {
	Batt    model.Batt
	Assumed bool    // not in the stock: a usual size was taken
	Shapes  []Shape // the parts; Shape.Piece is an index into Pieces
	Nesting Nesting // x runs along the batt's length
	Whole   int     // batts that are used uncut
}

// RollUse is what becomes of one sort of film or cloth.
type RollUse struct {
	Roll      model.Roll
	Assumed   bool
	Shapes    []Shape
	Unrolling Unrolling
}

// BagUse is how many ready-made bags of one sort are used.
type BagUse struct {
	Bag  model.Roll
	Used int
}

// TimberUse is what becomes of one sort of battens.
type TimberUse struct {
	Timber  model.Timber
	Members []Member
	Sticks  []Stick
	TooLong []int // indexes of members to be joined of two
	Bound   int
}

// Member is one part of a frame.
type Member struct {
	Piece  int // index into Pieces
	Name   string
	Length float64 // between the long points of its ends, m

	// Ends are by how much the cut at either end is off square, rad.
	Ends [2]float64
}

// Board is a sheet that a treatment asks for beside wool, film and cloth.
type Board struct {
	Piece         int
	Layer         model.Layer
	Width, Height float64 // m
}

// mostParts bounds a plan: beyond, the batts are too small for the room, or a unit is
// wrong.
const mostParts = 2000

// Make plans how to build what is missing of the treatments of a valid project. A project without stock is
// planned with usual sizes. It returns an error for a layer that package material
// refuses, and for batts so small that they make more than two thousand parts.
func Make(p *model.Project) (*Plan, error) {
	lacking := *p
	lacking.Room.Treatments = slices.Clone(p.Room.Treatments)
	m := maker{project: &lacking, stock: p.Stock, plan: &Plan{}}
	if m.stock == nil {
		m.stock = &model.Stock{}
	}
	if err := m.lay(); err != nil {
		return nil, err
	}
	for i := range p.Room.Treatments {
		if p.Room.Treatments[i].Furnished() {
			continue
		}
		t, lacks := p.Room.Treatments[i].Missing()
		if !lacks {
			m.note(i, "stands already: nothing to buy or make")
			continue
		}
		if p.Room.Treatments[i].Built > 0 {
			m.note(i, "goes before what stands already: only the new layers are listed")
		}
		lacking.Room.Treatments[i] = t
		if err := m.treatment(i); err != nil {
			return nil, fmt.Errorf("treatment %q: %w", p.Room.Treatments[i].Name, err)
		}
		if m.parts() > mostParts {
			return nil, fmt.Errorf("treatment %q takes the plan to more than %d parts of wool: are the batts of the right size?", p.Room.Treatments[i].Name, mostParts)
		}
	}
	if err := m.nest(); err != nil {
		return nil, err
	}
	m.shop()
	return m.plan, nil
}

// maker gathers a plan.
type maker struct {
	project *model.Project
	stock   *model.Stock
	plan    *Plan
	wools   []wool // by batt of the plan
}

func (m *maker) note(treatment int, words ...any) {
	m.plan.Notes = append(m.plan.Notes, Note{Treatment: treatment, Words: words})
}

// lay takes the sorts of the stock into the plan.
func (m *maker) lay() error {
	for _, b := range m.stock.Batts {
		w, err := woolOf(b.Layer)
		if err != nil {
			return fmt.Errorf("batt %q: %w", cmp.Or(b.Name, b.Layer.Text), err)
		}
		m.plan.Batts, m.wools = append(m.plan.Batts, BattUse{Batt: b}), append(m.wools, w)
	}
	for _, r := range m.stock.Films {
		m.plan.Films = append(m.plan.Films, RollUse{Roll: r})
	}
	for _, r := range m.stock.Cloths {
		m.plan.Cloths = append(m.plan.Cloths, RollUse{Roll: r})
	}
	for _, r := range m.stock.Bags {
		m.plan.Bags = append(m.plan.Bags, BagUse{Bag: r})
	}
	if len(m.stock.Timber) > 0 {
		m.plan.Timber = &TimberUse{Timber: m.stock.Timber[0]}
	}
	return nil
}

// parts counts the parts of wool so far.
func (m *maker) parts() int {
	n := 0
	for _, b := range m.plan.Batts {
		n += len(b.Shapes)
	}
	return n
}

// sawKerf is what a saw takes of a batten, m. Common practice, no source: 3 to 4 mm. A
// knife takes nothing of wool and film.
const sawKerf = 0.004

// nest lays the parts on what they are cut from.
func (m *maker) nest() (err error) {
	for i := range m.plan.Batts {
		b := &m.plan.Batts[i]
		if b.Nesting, err = Nest(b.Shapes, b.Batt.Length, b.Batt.Width, 0); err != nil {
			return err
		}
		for _, s := range b.Nesting.Sheets {
			if len(s.Places) == 1 && len(s.Cuts) == 0 {
				b.Whole++
			}
		}
	}
	for _, uses := range [][]RollUse{m.plan.Films, m.plan.Cloths} {
		for i := range uses {
			if uses[i].Unrolling, err = Unroll(uses[i].Shapes, uses[i].Roll.Width, uses[i].Roll.Length); err != nil {
				return err
			}
		}
	}
	if t := m.plan.Timber; t != nil {
		lengths := make([]float64, len(t.Members))
		for i, member := range t.Members {
			lengths[i] = member.Length
		}
		t.Sticks, t.TooLong, t.Bound = Saw(lengths, t.Timber.Length, sawKerf)
	}
	return nil
}

// Weight is that of all pieces together, kg.
func (p *Plan) Weight() material.Span {
	var sum material.Span
	for i := range p.Pieces {
		sum = plus(sum, p.Pieces[i].Weight, 1)
	}
	return sum
}

// plus adds a figure times a factor to a sum, range by range.
func plus(sum, s material.Span, factor float64) material.Span {
	return material.Span{Low: sum.Low + factor*s.Low, Typical: sum.Typical + factor*s.Typical, High: sum.High + factor*s.High}
}
