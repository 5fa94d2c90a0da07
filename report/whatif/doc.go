// Package whatif shows what options would make of a room, each beside the room as it is: as a page, as
// text, CSV and JSON. A [Report] goes in.
package whatif
