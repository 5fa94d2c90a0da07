package svg

import (
	"html/template"
	"strings"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// markup is the template of a drawing.
var markup = template.Must(template.New("drawing").Parse(`<svg class="drawing{{if .Graph}} graph{{end}}" id="{{.ID}}-drawing" viewBox="0 0 {{.Width}} {{.Height}}"{{with .Frame}} data-frame="{{.}}"{{end}} role="img" aria-labelledby="{{.ID}}-title {{.ID}}-desc">
<title id="{{.ID}}-title">{{.Title}}</title>
<desc id="{{.ID}}-desc">{{.Desc}}</desc>
{{range .Shapes -}}
{{if eq .Kind "rect"}}<rect class="{{.Class}}" x="{{.X}}" y="{{.Y}}" width="{{.X2}}" height="{{.Y2}}"/>
{{else if eq .Kind "circle"}}<circle class="{{.Class}}" cx="{{.X}}" cy="{{.Y}}" r="{{.X2}}"/>
{{else if eq .Kind "line"}}<line class="{{.Class}}" x1="{{.X}}" y1="{{.Y}}" x2="{{.X2}}" y2="{{.Y2}}"/>
{{else if eq .Kind "path"}}<path class="{{.Class}}" d="{{.D}}"/>
{{else}}<text class="{{.Class}}{{if .Left}} begin{{end}}{{if .Right}} end{{end}}" x="{{.X}}" y="{{.Y}}"{{if .Upright}} transform="rotate(-90 {{.X}} {{.Y}})"{{end}}>{{.Text}}</text>
{{end}}{{end}}</svg>`))

// SVG returns the drawing as an element for a page. It fails only if a class or a path is malformed.
func (d *Drawing) SVG() (template.HTML, error) {
	var b strings.Builder
	if err := markup.Execute(&b, d); err != nil {
		return "", err
	}
	return template.HTML(b.String()), nil
}

// mark is one of the three places of a layout that get a mark on the floor.
type mark struct {
	Name  string // "left woofer"
	Short string // "L", as the drawings write it
	At    r3.Vec // m
	Of    func(model.Layout) r3.Vec
}

// Marks returns the two woofers and the seat of a layout.
func Marks(l model.Layout) [3]mark {
	m := [3]mark{
		{Name: "left woofer", Short: "L", Of: func(l model.Layout) r3.Vec { return l.Left }},
		{Name: "right woofer", Short: "R", Of: func(l model.Layout) r3.Vec { return l.Right }},
		{Name: "seat", Short: "S", Of: func(l model.Layout) r3.Vec { return l.Seat }},
	}
	for i := range m {
		m[i].At = m[i].Of(l)
	}
	return m
}
