package cause

import "evenbass/model"

// namedCauses is how many causes of one dip are named. Nobody treats more surfaces for one dip.
const namedCauses = 2

// worthNaming is the share of the best cure that a further one must have to be named.
const worthNaming = 0.5

// Named returns the causes to name to somebody who builds, the best cure first: the one or two
// boundaries that can be treated, if they cure at least half of what the best suspect cures; else
// that suspect alone. A floor is walked on, and modes and speakers are no surfaces, so these are
// named only where no other boundary is to blame.
func (d *Dip) Named() []Cause {
	if len(d.Causes) == 0 {
		return nil
	}
	best := d.Causes[0].Cure
	var list []Cause
	for _, c := range d.Causes {
		if len(list) < namedCauses && c.Treatable() && c.Cure >= model.Level(worthNaming)*best {
			list = append(list, c)
		}
	}
	if len(list) == 0 {
		return d.Causes[:1:1]
	}
	return list
}

// Treatable reports whether a builder can hang or stand something before the suspect.
func (s *Suspect) Treatable() bool {
	return s.Kind == BoundarySuspect && s.Boundary != model.Floor
}
