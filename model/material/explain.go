package material

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
)

// Explain says in plain words what a build-up does and what each of its pieces
// adds: every sentence comes from computing the build-up again without that
// piece. Layers, options and errors are those of [NewStack]. Head on is normal
// incidence.
func Explain(layers []model.Layer, options *Options) ([]string, error) {
	v, _, err := NewVariants(layers, options)
	if err != nil {
		return nil, err
	}
	a := account{whole: v.typical, variants: v}
	a.summary()
	for i := range a.whole.layers {
		a.sheet(i)
	}
	a.reflection()
	a.frontLayer()
	a.secondBag()
	for i := range a.whole.layers {
		a.gap(i)
	}
	a.skeleton()
	return a.sentences, nil
}

// bassTriple are the frequencies at which pieces are judged, midTriple those of
// what a cover costs; Hz.
var (
	bassTriple = [3]float64{63, 80, 100}
	midTriple  = [3]float64{500, 1000, 2000}
)

type account struct {
	whole     *Stack
	variants  *Variants
	sentences []string
	modest    bool // it has been said that a film does little
}

func (a *account) say(format string, args ...any) {
	a.sentences = append(a.sentences, fmt.Sprintf(format, args...))
}

// name returns a layer as its owner calls it, with its number if another is
// called the same.
func (a *account) name(i int) string {
	name := layerName(a.whole.source[i])
	for j, l := range a.whole.source {
		if j != i && layerName(l) == name {
			return fmt.Sprintf("%s (layer %d)", name, i+1)
		}
	}
	return name
}

// with returns the stack of other layers on the same wall; nil for none.
func (a *account) with(layers ...[]model.Layer) *Stack {
	var all []model.Layer
	for _, l := range layers {
		all = append(all, l...)
	}
	if len(all) == 0 {
		return nil
	}
	s, _, err := NewStack(all, &a.whole.options)
	if err != nil {
		panic(fmt.Sprintf("material: part of a sound build-up: %v", err))
	}
	return s
}

// percents reads the absorption head on at three frequencies; of no stack at all
// it is 0.
func percents(s *Stack, at [3]float64) string {
	var p [3]string
	for i, f := range at {
		p[i] = "0"
		if s != nil {
			p[i] = fmt.Sprintf("%.0f", 100*s.NormalAbsorption(f))
		}
	}
	return fmt.Sprintf("%s, %s and %s %%", p[0], p[1], p[2])
}

// change returns the least and the greatest change in absorption at three
// frequencies.
func change(from, to *Stack, at [3]float64) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, f := range at {
		d := to.NormalAbsorption(f)
		if from != nil {
			d -= from.NormalAbsorption(f)
		}
		least, most = min(least, d), max(most, d)
	}
	return least, most
}

func (a *account) summary() {
	var parts []string
	for _, f := range bassTriple {
		r := a.variants.Random(f)
		parts = append(parts, fmt.Sprintf("%.0f %% (%.0f-%.0f) at %.0f Hz", 100*r.Typical, 100*r.Low, 100*r.High, f))
	}
	a.say("Of the sound that comes from all directions the build-up takes up %s.", strings.Join(parts, ", "))
	if f, ok := a.whole.HalfFrom(); ok {
		a.say("Head on it takes up half or more from %s.", hertz(f))
	} else {
		a.say("Head on it takes up half at no frequency.")
	}
}

// sheet tells what a film, panel or perforated sheet adds.
func (a *account) sheet(i int) {
	if isFluid(a.whole.layers[i]) {
		return
	}
	without := a.with(a.whole.source[:i], a.whole.source[i+1:])
	if i == len(a.whole.layers)-1 && without != nil && a.idle(without) {
		a.say("The %s has nothing behind it and changes nothing.", a.name(i))
		return
	}
	little := "Deep bass"
	if before, after := percents(without, bassTriple), percents(a.whole, bassTriple); before == after {
		a.say("The %s changes nothing that counts in the bass: %s at 63, 80 and 100 Hz head on with it and without%s.", a.name(i), after, a.swing(i))
	} else {
		little = "That is little: deep bass"
		a.say("The %s turns %s at 63, 80 and 100 Hz head on into %s%s.", a.name(i), before, after, a.swing(i))
	}
	_, isFilm := a.whole.layers[i].(*film)
	if _, most := change(without, a.whole, bassTriple); isFilm && most < 0.05 && !a.modest {
		a.modest = true
		a.say("%s is bought by depth and mass, not by a thin cover.", little)
	}
}

// idle reports whether leaving something out makes no difference.
func (a *account) idle(without *Stack) bool {
	least, most := change(without, a.whole, bassTriple)
	return math.Abs(least) < 1e-9 && math.Abs(most) < 1e-9
}

func (a *account) swing(i int) string {
	for _, r := range a.whole.Resonances() {
		if r.Layer == i {
			return fmt.Sprintf("; it swings on what is behind it at %s", hertz(r.Frequency))
		}
	}
	return ""
}

// reflection tells from where the build-up is a mirror, if a sheet makes it one.
func (a *account) reflection() {
	f, ok := a.whole.ReflectsAbove()
	first := a.firstSheet()
	if !ok || first < 0 {
		return
	}
	a.say("Above %s it throws back more than half of what meets it head on.", hertz(f))
	if first > 0 || len(a.whole.layers) == maxLayers {
		return
	}
	const sigma, d = 10000, 0.05
	front := []model.Layer{{Kind: model.PorousLayer, Resistivity: sigma, Thickness: d}}
	a.say("50 mm of wool of 10 kPa·s/m² in front would give %s at 500, 1000 and 2000 Hz instead of %s.",
		percents(a.with(front, a.whole.source), midTriple), percents(a.whole, midTriple))
}

func (a *account) firstSheet() int {
	for i, l := range a.whole.layers {
		if !isFluid(l) {
			return i
		}
	}
	return -1
}

// frontLayer tells what the layers ahead of the first sheet restore. A sheet on
// the wall itself took nothing away.
func (a *account) frontLayer() {
	i := a.firstSheet()
	if i <= 0 || i == len(a.whole.layers)-1 {
		return
	}
	bare := a.with(a.whole.source[i:])
	verb := "changes"
	if least, most := change(bare, a.whole, midTriple); least > -0.05 && most > 0.05 {
		verb = "restores"
	}
	a.say("What is in front of the %s %s the mids and highs: %s at 500, 1000 and 2000 Hz instead of %s.",
		a.name(i), verb, percents(a.whole, midTriple), percents(bare, midTriple))
}

// secondBag tells what a second film with its fill behind the first one changes.
func (a *account) secondBag() {
	j := a.secondFilm()
	if j < 0 {
		return
	}
	source := a.whole.source
	front, undivided := a.with(source[:j]), a.with(source[:j], source[j+1:])
	a.say("The second bag, from the %s on, turns %s of the first alone at 63, 80 and 100 Hz into %s; as one bag of the same depth it would be %s.",
		a.name(j), percents(front, bassTriple), percents(a.whole, bassTriple), percents(undivided, bassTriple))
	gain, _ := change(front, a.whole, bassTriple)
	if _, most := change(undivided, a.whole, bassTriple); gain > 0 && most < gain/2 {
		a.say("Most of that is depth; the film between the bags does little.")
	}
}

// secondFilm returns the film that begins a second bag: one with wool between it
// and the film before, and wool behind. -1 is none.
func (a *account) secondFilm() int {
	films, filled := 0, false
	for i, l := range a.whole.layers {
		switch l.(type) {
		case *porous:
			filled = true
		case *film:
			behind, _ := a.whole.neighbour(i + 1).(*porous)
			if films > 0 && filled && behind != nil {
				return i
			}
			films, filled = films+1, false
		}
	}
	return -1
}

// gap tells what an air gap adds and what wool in its place would.
func (a *account) gap(i int) {
	if _, ok := a.whole.layers[i].(*gap); !ok || i == 0 {
		return
	}
	source := a.whole.source
	without := a.with(source[:i], source[i+1:])
	text := fmt.Sprintf("The %s behind the %s turns %s at 63, 80 and 100 Hz head on into %s", a.name(i), a.name(i-1),
		percents(without, bassTriple), percents(a.whole, bassTriple))
	if _, ok := a.whole.layers[i-1].(*porous); ok {
		fill := source[i-1]
		fill.Thickness = source[i].Thickness
		text += fmt.Sprintf("; the same depth filled with that wool would give %s", percents(a.with(source[:i], []model.Layer{fill}, source[i+1:]), bassTriple))
	}
	a.say("%s.", text)
}

// skeleton tells what it would change if the wool were free to move.
func (a *account) skeleton() {
	o := a.whole.options
	if o.Frame != model.FrameUnknown {
		return
	}
	o.Frame = model.FrameLimp
	limp, _, err := NewStack(a.whole.source, &o)
	if err != nil {
		panic(fmt.Sprintf("material: limp variant of a sound build-up: %v", err))
	}
	at := [3]float64{40, 63, 100}
	least, most := change(a.whole, limp, at)
	if max(-least, most) < 0.03 {
		return
	}
	a.say("Wool that hangs loose is dragged along by the air: %s at 40, 63 and 100 Hz head on instead of %s with the skeleton held.",
		percents(limp, at), percents(a.whole, at))
}

// hertz writes a frequency with two or three figures.
func hertz(f float64) string {
	if f >= 1000 {
		return fmt.Sprintf("%.1f kHz", f/1000)
	}
	return fmt.Sprintf("%.0f Hz", f)
}
