package svg

import "html/template"

// Pair is one drawing for wide screens and paper and one for phones, of which the page shows
// the one that fits. Letters are as large in both.
type Pair struct{ Wide, Narrow *Drawing }

// NewPair draws in both forms.
func NewPair(draw func(Form) *Drawing) Pair { return Pair{Wide: draw(Wide), Narrow: draw(Narrow)} }

// SVG returns both drawings as elements for a page.
func (p Pair) SVG() (template.HTML, error) {
	wide, err := p.Wide.SVG()
	if err != nil {
		return "", err
	}
	narrow, err := p.Narrow.SVG()
	if err != nil {
		return "", err
	}
	return `<div class="wideform">` + wide + "</div>\n" + `<div class="narrowform">` + narrow + "</div>", nil
}

// Title names what both drawings show.
func (p Pair) Title() string { return p.Wide.Title }

// Key explains the letters of both drawings.
func (p Pair) Key() []KeyEntry { return p.Wide.Key }
