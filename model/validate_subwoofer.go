package model

import "fmt"

// The limits of what a subwoofer may be set to. Common practice, no source.
const (
	MostSubwoofers = 4
	LongestDelay   = 0.020 // s
)

// subwoofers checks what may be chosen of the subwoofers. It relies on the room's size
// and shape.
func (v *validator) subwoofers() {
	s := v.p.Subwoofers
	if s == nil {
		return
	}
	before := len(v.problems)
	v.inRange("subwoofers.count", float64(s.Count), 1, MostSubwoofers, "subwoofers")
	v.boxSize("subwoofers.box", s.Box, 2.5)
	v.inRange("subwoofers.driver_height", s.Height, 0, v.p.Room.Size.Z, "m")
	v.within("subwoofers.low_pass", s.LowPass, 30, 250, 1, "Hz")
	v.within("subwoofers.gain", s.Gain, -40, 20, 1, "dB")
	v.within("subwoofers.delay", s.Delay, 0, LongestDelay, 1000, "ms")
	if s.HighPass != 0 {
		v.inRange("subwoofers.mains_high_pass", s.HighPass, 20, 250, "Hz")
	}
	if s.LowLimit != 0 {
		v.inRange("subwoofers.low_limit", s.LowLimit, 5, 200, "Hz")
	}
	v.zoneRanges("subwoofers.may_stand", s.Zones)
	if len(s.Placed) > MostSubwoofers {
		v.fail("subwoofers.now", "must be at most %d places, have %d", MostSubwoofers, len(s.Placed))
	}
	if len(v.problems) == before {
		v.subwooferPlaces(s)
	}
}

// within checks a range that must be given, in a unit of so many to the SI one.
func (v *validator) within(path string, r Range, low, high, scale float64, unit string) {
	if !(r.Min >= low && r.Min <= r.Max && r.Max <= high) {
		v.fail(path, "must go from low to high within %.6g to %.6g %s, have %.6g to %.6g %s",
			low*scale, high*scale, unit, r.Min*scale, r.Max*scale, unit)
	}
}

// subwooferPlaces checks where subwoofers stand now, and that there is a place for one.
func (v *validator) subwooferPlaces(s *Subwoofers) {
	for i, at := range s.Placed {
		path := fmt.Sprintf("subwoofers.now[%d]", i)
		if out := v.p.Room.outsideBy(point(at)); out != "" {
			v.fail(path, "must be inside the room, is %s", out)
			continue
		}
		v.inside(path, "the box at this place ", s.Cabinet(v.p.SubwooferPlaceAt(at)))
	}
	if v.p.hasSubwooferPlace(0.1) {
		return
	}
	path, fault := "subwoofers", ""
	if len(s.Zones) > 0 {
		path = "subwoofers.may_stand"
	}
	whole := *s
	whole.Zones = nil
	p := *v.p
	p.Subwoofers = &whole
	if p.hasSubwooferPlace(0.1) {
		fault = ": the zones leave none of those that the room has"
	}
	v.fail(path, "must have a place for a box %s%s", s.Where, fault)
}

// String says where: "along the walls".
func (s Stand) String() string {
	return [...]string{"along the walls", "in a corner", "anywhere on the floor"}[s]
}
