package report

import (
	"fmt"
	"io"
	"strings"
)

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
		Room: roomName(m.Project.Room.Name), Facts: m.facts(), Floor: floor, Trust: trust(m.Engine, m.Why), Command: m.Run.Command,
		Again: "The same room file and version give the same maps to the last digit.",
	}
	if m.Run.Version != "" {
		v.Again += " Made by evenbass " + printable(m.Run.Version) + "."
	}
	for _, d := range uniqueWarnings(m.Project.Warnings, m.Warnings) {
		v.Doubts = append(v.Doubts, sentence(string(d))+".")
	}
	if err := v.scripts(""); err != nil {
		return err
	}
	if err := v.style("page/map.css"); err != nil {
		return err
	}
	return writePage(w, "map.gohtml", v)
}

// mapPageView is what the template of a page of maps reads.
type mapPageView struct {
	Room, Facts    string
	Floor          *floorView
	Trust          string
	Doubts         []string
	Again, Command string

	frame
}

// facts is the line under the room's name.
func (m *Maps) facts() string {
	s, r := m.Style, &m.Project.Room
	parts := []string{
		fmt.Sprintf("%s × %s × %s", s.Length(r.Size.X), s.Length(r.Size.Y), s.Length(r.Size.Z)),
		s.Volume(r.Volume()), s.Temperature(r.Temperature), "engine " + m.Engine,
	}
	if !m.Run.Date.IsZero() {
		parts = append(parts, m.Run.Date.Format("2 January 2006"))
	}
	return strings.Join(parts, " · ")
}
