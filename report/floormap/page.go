package floormap

import (
	"embed"
	"evenbass/report/html"
	"evenbass/report/text"
	"fmt"
	"io"
	"io/fs"
)

//go:embed page
var pageFiles embed.FS

// Files holds the templates, style sheet and script of the maps, for pages that have
// maps as one of their parts: the template "floor" reads a [View].
func Files() fs.FS { return html.Folder(pageFiles, "page") }

// Page writes a survey as one HTML file that needs no network: interactive maps,
// tables, plain words. The same survey gives the same bytes.
func Page(w io.Writer, m Report) error {
	if err := m.check(); err != nil {
		return err
	}
	floor, err := NewView(&m)
	if err != nil {
		return fmt.Errorf("report: maps: %w", err)
	}
	v := &pageView{
		Frame: html.Frame{
			Heading: text.RoomName(m.Project.Room.Name), About: "maps of the floor", Kicker: "Bass of a room, predicted", Facts: m.facts(), Folded: true,
			Contents:       []html.Link{{ID: "tones", Text: "Further frequencies"}, {ID: "forgiving", Text: "Off the marks"}, {ID: "assumed", Text: "Reliability"}, {ID: "again", Text: "Re-run"}},
			WithoutScripts: "Scripts are off in this browser: the maps are complete, but cannot show other frequencies or read out single cells.",
		},
		Floor: floor, Trust: text.Trust(m.Engine, m.Why),
	}
	if len(m.Survey.Cards) > 0 {
		v.Cards = m.cardsTable()
	}
	v.SetRun(m.Run.By(string(m.Engine.Kind)), "room file")
	v.Breaches = text.PresentBreaches(m.Project, m.Style)
	v.Caveats = text.Caveats(m.warnings(), m.Style)
	v.Warnings = text.WarningSentences(m.warnings(), m.Style)
	return html.Write(w, v, Files())
}

// pageView is what the template of a page of maps reads.
type pageView struct {
	Floor    *View
	Cards    text.Table
	Trust    string
	Caveats  []string // that may change the answer
	Breaches []string
	Warnings []string

	html.Frame
}

// facts is the line under the room's name.
func (m *Report) facts() string {
	s, r := m.Style, &m.Project.Room
	return html.Facts(m.Run, text.SizesText(r, s), s.Volume(r.Volume()), s.Temperature(r.Temperature), "engine "+string(m.Engine.Kind))
}
