package model

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Option is a change to the room that is to be looked at before it is made.
type Option struct {
	Name   string
	Remove []string    // names of treatments that go
	Move   []Treatment // of the same names, in their new places; no layers: those they have
	Double []string    // names of treatments that get as much wool again
	Front  []Treatment // of the names of treatments, with the layers put before them
	Add    []Treatment
	Walls  map[Face]Surface // walls that become something else
}

// Empty reports whether an option changes nothing.
func (o *Option) Empty() bool {
	return len(o.Remove) == 0 && len(o.Move) == 0 && len(o.Double) == 0 && len(o.Front) == 0 && len(o.Add) == 0 && len(o.Walls) == 0
}

// And returns an option that makes the changes of both, or false if both change the same treatment or wall.
// Whether both find space in a room is for [Project.With] to say.
func (o *Option) And(other *Option) (Option, bool) {
	mine, theirs := o.changed(), other.changed()
	both := Option{
		Name: o.Name + " and " + other.Name, Walls: map[Face]Surface{},
		Remove: slices.Concat(o.Remove, other.Remove), Move: slices.Concat(o.Move, other.Move), Double: slices.Concat(o.Double, other.Double),
		Front: slices.Concat(o.Front, other.Front), Add: slices.Concat(o.Add, other.Add),
	}
	maps.Copy(both.Walls, o.Walls)
	maps.Copy(both.Walls, other.Walls)
	apart := len(both.Walls) == len(o.Walls)+len(other.Walls) && !slices.ContainsFunc(mine, func(name string) bool { return slices.Contains(theirs, name) })
	return both, apart
}

// changed returns the names of the treatments that were there and become different.
func (o *Option) changed() []string {
	names := slices.Concat(o.Remove, o.Double)
	for _, t := range slices.Concat(o.Move, o.Front) {
		names = append(names, t.Name)
	}
	return names
}

// With returns the project with an option carried out, without the options of its own.
// The project itself stays as it is; what the option does not touch is shared. The
// error names a treatment that is not there, or says what would be impossible.
func (p *Project) With(o *Option) (*Project, error) {
	q, _, problem := p.with(o, "")
	if problem.Text != "" {
		return nil, errors.New(problem.Text)
	}
	before := p.bare().Validate()
	for _, b := range q.unmeasured().Validate() {
		if !slices.ContainsFunc(before, func(a Problem) bool { return a.Text == b.Text }) {
			return nil, fmt.Errorf("%s %s", q.pieceName(b.Path), b.Text)
		}
	}
	return q, nil
}

// bare returns the project without its options.
func (p *Project) bare() *Project {
	q := *p
	q.Options = nil
	return &q
}

// unmeasured returns the project without its measurements, whose states name treatments that an option
// may remove.
func (p *Project) unmeasured() *Project {
	q := *p
	q.Measurements = nil
	return &q
}

// with carries out an option. It returns for every treatment of the new project where
// the option says it, as a path below the given one; "" for those that were there.
func (p *Project) with(o *Option, path string) (*Project, []string, Problem) {
	q := p.bare()
	list := slices.Clone(p.Room.Treatments)
	origin := make([]string, len(list))
	find := func(name string) int {
		return slices.IndexFunc(list, func(t Treatment) bool { return t.Name == name })
	}
	for i, name := range o.Remove {
		at := find(name)
		if at < 0 {
			return nil, nil, Problem{Path: fmt.Sprintf("%s.remove[%d]", path, i), Text: p.noTreatment(name)}
		}
		list, origin = slices.Delete(list, at, at+1), slices.Delete(origin, at, at+1)
	}
	for i, t := range o.Move {
		at, here := find(t.Name), fmt.Sprintf("%s.move[%d]", path, i)
		if at < 0 {
			return nil, nil, Problem{Path: here, Text: p.noTreatment(t.Name)}
		}
		if len(t.Layers) == 0 {
			t.Layers, t.Built, t.Box.Furniture = list[at].Layers, list[at].Built, list[at].Box.Furniture
		}
		list[at], origin[at] = t, here
	}
	stack := func(name, here string, change func(t Treatment) (Treatment, string)) Problem {
		at := find(name)
		if at < 0 {
			return Problem{Path: here, Text: p.noTreatment(name)}
		}
		t, why := change(list[at])
		if why != "" {
			return Problem{Path: here, Text: Sprintf("%q %s", name, why)}
		}
		list[at], origin[at] = t, here
		return Problem{}
	}
	for i, name := range o.Double {
		if problem := stack(name, fmt.Sprintf("%s.double[%d]", path, i), Treatment.Doubled); problem.Text != "" {
			return nil, nil, problem
		}
	}
	for i, f := range o.Front {
		if len(f.Layers) == 0 {
			return nil, nil, Problem{Path: fmt.Sprintf("%s.front[%d].layers", path, i), Text: "must have at least one layer"}
		}
		before := func(t Treatment) (Treatment, string) { return t.Before(f.Layers) }
		if problem := stack(f.Name, fmt.Sprintf("%s.front[%d]", path, i), before); problem.Text != "" {
			return nil, nil, problem
		}
	}
	for i, t := range o.Add {
		list, origin = append(list, t), append(origin, fmt.Sprintf("%s.add[%d]", path, i))
	}
	q.Room.Treatments = list
	for f, s := range o.Walls {
		q.Room.Walls[f] = s
	}
	return q, origin, Problem{}
}

// noTreatment says that there is none of that name, and which there are.
func (p *Project) noTreatment(name string) string {
	var names []string
	for _, t := range p.Room.Treatments {
		if t.Name != "" {
			names = append(names, Sprintf("%q", t.Name))
		}
	}
	if len(names) == 0 {
		return Sprintf("no treatment is called %q: the room has none with a name", name)
	}
	return Sprintf("no treatment is called %q; there are %s", name, strings.Join(names, ", "))
}

// pieceName turns the path of a treatment into words, and leaves any other path alone.
func (p *Project) pieceName(path string) string {
	var i int
	if _, err := fmt.Sscanf(path, "treatments[%d]", &i); err != nil || i < 0 || i >= len(p.Room.Treatments) {
		return path
	}
	t := &p.Room.Treatments[i]
	if t.Name != "" {
		return Sprintf("the treatment %q", t.Name)
	}
	return "the treatment " + t.Where()
}

// options checks that every option of the file can be carried out.
func (v *validator) options() {
	if len(v.p.Options) == 0 {
		return
	}
	before := v.p.bare().Validate()
	for i := range v.p.Options {
		o, path := &v.p.Options[i], fmt.Sprintf("options[%d]", i)
		if o.Empty() {
			v.fail(path, "must change something: give add, remove, move, double, front or walls")
			continue
		}
		if first := slices.IndexFunc(v.p.Options[:i], func(q Option) bool { return q.Name == o.Name }); first >= 0 {
			v.fail(path+".name", "must be unique; option %d is called %q too", first+1, o.Name)
			continue
		}
		q, origin, problem := v.p.with(o, path)
		if problem.Text != "" {
			v.fail(problem.Path, "%s", problem.Text)
			continue
		}
		for _, b := range q.unmeasured().Validate() {
			if slices.ContainsFunc(before, func(a Problem) bool { return a.Text == b.Text }) {
				continue
			}
			v.fail(placeOf(b.Path, path, origin), "%s", b.Text)
		}
	}
}

// placeOf turns the path of a problem in a changed project into one in the option
// that changes it.
func placeOf(path, option string, origin []string) string {
	var i int
	if _, err := fmt.Sscanf(path, "treatments[%d]", &i); err == nil && i >= 0 && i < len(origin) && origin[i] != "" {
		_, rest, _ := strings.Cut(path, "]")
		return origin[i] + rest
	}
	return option
}
