package model

import (
	"errors"
	"fmt"
)

// Face is one of the six walls of a box, floor and ceiling included.
type Face int

// The six faces. Front is the wall that the listener faces.
const (
	Front Face = iota
	Back
	Left
	Right
	Floor
	Ceiling
)

// Faces lists all six in their order, for ranging.
var Faces = [6]Face{Front, Back, Left, Right, Floor, Ceiling}

var faceNames = [6]string{"front", "back", "left", "right", "floor", "ceiling"}

// String returns the face's name as the room file writes it.
func (f Face) String() string {
	if f < Front || f > Ceiling {
		return fmt.Sprintf("Face(%d)", int(f))
	}
	return faceNames[f]
}

// Wall returns the name in prose: "back wall", but "floor" and "ceiling".
func (f Face) Wall() string {
	if f == Floor || f == Ceiling {
		return f.String()
	}
	return f.String() + " wall"
}

// ParseFace returns the face of that name.
func ParseFace(name string) (Face, error) {
	for i, n := range faceNames {
		if n == name {
			return Face(i), nil
		}
	}
	return 0, errors.New(Sprintf("no wall is called %q; the walls are front, back, left, right, floor, ceiling", name))
}

// Axis returns the axis that the face is normal to: 0 for x, 1 for y, 2 for z.
func (f Face) Axis() int { return int(f) / 2 }

// Far reports whether the face is the one away from the origin on its axis.
func (f Face) Far() bool { return f%2 == 1 }
