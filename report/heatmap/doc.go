// Package heatmap draws how long tones stay in a room: level over frequency and time, as a heat
// map and as ridge lines. In go maps of package spectraldecay, measured or predicted; out come
// drawings for a page. Drawings that stand side by side share one [Scale], so that a colour
// means the same level in each.
//
// A page that shows them adds the folder [Files] to its own.
package heatmap

import (
	"embed"
	"io/fs"

	"evenbass/report/html"
)

//go:embed page
var pageFiles embed.FS

// Files returns the style sheets of the drawings.
func Files() fs.FS { return html.Folder(pageFiles, "page") }
