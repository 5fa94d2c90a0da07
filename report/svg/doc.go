// Package svg draws rooms: plans, sides and sections to scale, with marks, openings and treatments. A
// [Drawing] is filled by calls in metres; SVG markup comes out.
package svg
