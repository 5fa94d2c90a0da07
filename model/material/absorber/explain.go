package absorber

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
)

// Explain puts into words what a build-up does and what each of its layers adds.
// Every sentence comes from computing the build-up again without that layer.
// Layers, options and errors are those of [NewStack]. Head-on sound is normal
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

// bassTriple holds the frequencies that judge a layer, midTriple those that show what
// a cover costs; Hz.
var (
	bassTriple = [3]float64{63, 80, 100}
	midTriple  = [3]float64{500, 1000, 2000}
)

type account struct {
	whole     *Stack
	variants  *Variants
	sentences []string
	modest    bool // a sentence says that film adds little
}

func (a *account) say(format string, args ...any) {
	a.sentences = append(a.sentences, fmt.Sprintf(format, args...))
}

// name returns what the owner calls a layer, with its number where two share a name.
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

// percents returns the absorption of head-on sound at three frequencies, 0 without a
// stack.
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
		parts = append(parts, fmt.Sprintf("%.0f %% (%.0f to %.0f) at %.0f Hz", 100*r.Typical, 100*r.Low, 100*r.High, f))
	}
	a.say("Of sound from all directions it absorbs %s.", strings.Join(parts, ", "))
}

// bassChange puts into words what a piece does to absorption in the bass: "raises
// head-on absorption at 63, 80 and 100 Hz from 7, 10 and 14 % to 7, 11 and 16 %".
func bassChange(from, to *Stack) string {
	verb := "changes"
	switch least, most := change(from, to, bassTriple); {
	case least >= 0:
		verb = "raises"
	case most <= 0:
		verb = "lowers"
	}
	return fmt.Sprintf("%s head-on absorption at 63, 80 and 100 Hz from %s to %s", verb, percents(from, bassTriple), percents(to, bassTriple))
}

// sheet says what a film, panel or perforated sheet adds.
func (a *account) sheet(i int) {
	if a.whole.form(i).Fills() {
		return
	}
	without := a.with(a.whole.source[:i], a.whole.source[i+1:])
	if i == len(a.whole.layers)-1 && without != nil && a.idle(without) {
		a.say("The %s has nothing behind it, so it does nothing.", a.name(i))
		return
	}
	if before, after := percents(without, bassTriple), percents(a.whole, bassTriple); before == after {
		a.say("The %s makes no difference in the bass: head-on absorption at 63, 80 and 100 Hz is %s with or without it%s.",
			a.name(i), after, a.resonance(i))
	} else {
		a.say("The %s %s%s.", a.name(i), bassChange(without, a.whole), a.resonance(i))
	}
	if _, most := change(without, a.whole, bassTriple); a.whole.form(i) == Film && most < 0.05 && !a.modest {
		a.modest = true
		a.say("Thin film adds little; deep bass needs depth or mass.")
	}
}

// idle reports whether the stack absorbs the same without a layer.
func (a *account) idle(without *Stack) bool {
	least, most := change(without, a.whole, bassTriple)
	return math.Abs(least) < 1e-9 && math.Abs(most) < 1e-9
}

// resonance ends a sentence on a sheet with its resonance.
func (a *account) resonance(i int) string {
	for _, r := range a.whole.Resonances() {
		if r.Layer == i {
			return fmt.Sprintf("; it resonates at %s", hertz(r.Frequency))
		}
	}
	return ""
}

// reflection says above which frequency a sheet makes the build-up reflect.
func (a *account) reflection() {
	f, ok := a.whole.ReflectsAbove()
	first := a.firstSheet()
	if !ok || first < 0 {
		return
	}
	a.say("Above %s it reflects more than half of head-on sound.", hertz(f))
	if first > 0 || len(a.whole.layers) == maxLayers {
		return
	}
	const sigma, d = 10000, 0.05
	front := []model.Layer{{Kind: model.PorousLayer, Resistivity: sigma, Thickness: d}}
	a.say("50 mm of wool of 10 kPa·s/m² in front would absorb %s at 500, 1000 and 2000 Hz instead of %s.",
		percents(a.with(front, a.whole.source), midTriple), percents(a.whole, midTriple))
}

func (a *account) firstSheet() int {
	for i := range a.whole.layers {
		if !a.whole.form(i).Fills() {
			return i
		}
	}
	return -1
}

// frontLayer says what the layers in front of the first sheet restore. A sheet on the
// wall itself took nothing away.
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
	a.say("What is in front of the %s %s the mids and highs: head-on absorption at 500, 1000 and 2000 Hz is %s, and %s without it.",
		a.name(i), verb, percents(a.whole, midTriple), percents(bare, midTriple))
}

// secondBag says what a second film with its fill changes.
func (a *account) secondBag() {
	j := a.secondFilm()
	if j < 0 {
		return
	}
	source := a.whole.source
	front, undivided := a.with(source[:j]), a.with(source[:j], source[j+1:])
	a.say("The second bag, from the %s on, %s; one bag of the same depth would absorb %s.",
		a.name(j), bassChange(front, a.whole), percents(undivided, bassTriple))
	gain, _ := change(front, a.whole, bassTriple)
	if _, most := change(undivided, a.whole, bassTriple); gain > 0 && most < gain/2 {
		a.say("Most of that comes from depth; the film between the bags does little.")
	}
}

// secondFilm returns the film that begins a second bag: one with wool between it
// and the film before, and wool behind. -1 is none.
func (a *account) secondFilm() int {
	films, filled := 0, false
	for i := range a.whole.layers {
		switch a.whole.form(i) {
		case Wool:
			filled = true
		case Film:
			if films > 0 && filled && a.whole.form(i+1) == Wool {
				return i
			}
			films, filled = films+1, false
		}
	}
	return -1
}

// gap says what an air gap adds, and what wool in its place would.
func (a *account) gap(i int) {
	if a.whole.form(i) != Air || i == 0 {
		return
	}
	source := a.whole.source
	without := a.with(source[:i], source[i+1:])
	text := fmt.Sprintf("The %s behind the %s %s", a.name(i), a.name(i-1), bassChange(without, a.whole))
	if a.whole.form(i-1) == Wool {
		fill := source[i-1]
		fill.Thickness = source[i].Thickness
		text += fmt.Sprintf("; filled with the same wool it would be %s", percents(a.with(source[:i], []model.Layer{fill}, source[i+1:]), bassTriple))
	}
	a.say("%s.", text)
}

// skeleton says what changes if the wool can move.
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
	a.say("Loose wool moves with the air and absorbs %s of head-on sound at 40, 63 and 100 Hz; wool that is held absorbs %s.",
		percents(limp, at), percents(a.whole, at))
}

// hertz formats a frequency.
func hertz(f float64) string {
	if f >= 1000 {
		return fmt.Sprintf("%.1f kHz", f/1000)
	}
	return fmt.Sprintf("%.0f Hz", f)
}
