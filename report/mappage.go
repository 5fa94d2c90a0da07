package report

import (
	"embed"
	"fmt"
	"io"
	"io/fs"
)

//go:embed page/floormap
var mapFiles embed.FS

// MapFiles holds the templates, style sheet and script of the maps, for pages that have
// maps as one of their parts: the template "floor" reads what [NewFloor] returns.
func MapFiles() fs.FS { return folder(mapFiles, "page/floormap") }

// MapPage writes a survey as one HTML file that needs no network: maps that can be
// asked and tuned, tables, plain words. The same survey gives the same bytes.
func MapPage(w io.Writer, m Maps) error {
	if err := m.check(); err != nil {
		return err
	}
	floor, err := newFloorView(&m)
	if err != nil {
		return fmt.Errorf("report: maps: %w", err)
	}
	v := &mapPageView{
		frame: frame{
			Heading: roomName(m.Project.Room.Name), About: "maps of the floor", Kicker: "Low end of a room, predicted", Facts: m.facts(),
			WithoutScripts: "Scripts are off in this browser: the maps are complete, but cannot show other frequencies or read out single cells.",
		},
		Floor: floor, Trust: trust(m.Engine, m.Why),
	}
	v.setRun(m.Run, "room file")
	v.Warnings = warningLines(uniqueWarnings(m.Project.Warnings, m.Warnings))
	return writePage(w, v, MapFiles())
}

// mapPageView is what the template of a page of maps reads.
type mapPageView struct {
	Floor    *floorView
	Trust    string
	Warnings []string

	frame
}

// facts is the line under the room's name.
func (m *Maps) facts() string {
	s, r := m.Style, &m.Project.Room
	return factLine(m.Run, sizesText(r, s), s.Volume(r.Volume()), s.Temperature(r.Temperature), "engine "+m.Engine)
}
