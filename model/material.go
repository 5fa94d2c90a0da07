package model

// Material is a material of the owner's own, for use by name in the layers of a
// build-up.
type Material struct {
	Name   string
	Layer  Layer  // its kind and figures; a thickness of zero is given with each use
	Source string // where the figures come from, such as a maker's sheet; may be empty
}
