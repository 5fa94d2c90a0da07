// Package recording puts the making of a measurement into words: the checklist for playing and
// recording a sweep ([ChecklistText]), how good a recording is and what was measured ([Text]).
// In go a sweep, or its analysis and the measurements; out comes text for a terminal.
package recording
