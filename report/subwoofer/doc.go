// Package subwoofer shows where subwoofers go and how to set them: as a page with a set-up sheet, as
// text and as JSON. A [Report] goes in.
package subwoofer
