package draw

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/wave/scene"
)

// treatments draws all treatments.
func (d *draft) treatments() error {
	for i := range d.room.Treatments {
		t := &d.room.Treatments[i]
		name := cmp.Or(t.Name, "treatment "+t.Where())
		if err := d.treatment(name, t); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// treatment draws one treatment by its form.
func (d *draft) treatment(name string, t *model.Treatment) error {
	layers := append([]model.Layer(nil), t.Layers...)
	options := absorber.Options{Air: d.scene.Air}
	switch t.Form {
	case model.InCorner:
		if n := len(layers); n > 0 && layers[n-1].Thickness == 0 {
			layers[n-1].Thickness = t.Depth()
		}
	case model.OnWall:
		options.Backing = d.bare[t.Patch.Face]
	default:
		options.Free = true
	}
	v, warnings, err := absorber.NewVariants(layers, &options)
	if err != nil {
		return err
	}
	for _, w := range warnings {
		d.warnings = append(d.warnings, model.About{Name: name, Warning: w})
	}
	stack := v.At(d.estimate)
	if d.resistivity > 0 {
		if stack, err = v.WithResistivity(d.resistivity); err != nil {
			return err
		}
	}
	if !d.untested {
		defer d.reportError(name, t, len(d.scene.Porous), len(d.scene.Films))
	}
	switch t.Form {
	case model.InCorner:
		d.corner(name, t.Corner, stack.Pieces())
	case model.UnderCeiling:
		d.block(name, d.room.Space(t), 2, stack.Pieces(), 1, false) // from below
	case model.FreeStanding:
		if t.Box.Kind == model.Column {
			d.column(name, t.Box, stack.Pieces()[0].Porous)
			break
		}
		b := t.Filled()
		d.block(name, b, b.Thin(), stack.Pieces(), 1, false)
	default:
		d.onWall(name, t, stack)
	}
	return nil
}

// block draws the pieces through a box along an axis, in the direction of the sign. step marks one of many
// steps of a slant.
func (d *draft) block(name string, b model.Block, axis int, pieces []absorber.Piece, sign float64, step bool) {
	low, high := scene.Components(b.Min), scene.Components(b.Max)
	at := low[axis]
	if sign < 0 {
		at = high[axis]
	}
	for _, p := range pieces {
		next := at + sign*p.Thickness
		switch p.Form {
		case absorber.Wool:
			low[axis], high[axis] = min(at, next), max(at, next)
			d.wool(name, low, high, p.Porous, step)
		case absorber.Film:
			low[axis], high[axis] = at, at
			d.sheet(name, low, high, p.SurfaceMass)
		case absorber.Board:
			low[axis], high[axis] = at, at
			d.sheet(name, low, high, p.SurfaceMass)
			d.warnings = append(d.warnings, model.LimpPanel{Name: name})
		case absorber.Pierced:
			d.omitted = append(d.omitted, "the perforated sheet of "+name)
		}
		at = next
	}
}

// column draws an upright cylinder in slices one cell wide, each as deep as its part of the circle is on average.
func (d *draft) column(name string, b model.Block, v absorber.PorousVolume) {
	radius, middle, across := (b.Max.X-b.Min.X)/2, (b.Min.X+b.Max.X)/2, (b.Min.Y+b.Max.Y)/2
	area := func(x float64) float64 { // of half the circle, up to x from its middle
		s := max(-1, min(1, x/radius))
		return radius * radius / 2 * (s*math.Sqrt(1-s*s) + math.Asin(s))
	}
	for _, x := range d.columns(0, b.Min.X, b.Max.X) {
		half := (area(x.Max-middle) - area(x.Min-middle)) / (x.Max - x.Min)
		d.wool(name, [3]float64{x.Min, across - half, b.Min.Z}, [3]float64{x.Max, across + half, b.Max.Z}, v, true)
	}
}

// underSlope draws wool on a sloped ceiling in steps of one cell, each as thick upright as the wool is square
// to the slope there times the slope's length over its plan, and filled up to the ceiling. Films are left out.
func (d *draft) underSlope(name string, b model.Block, pieces []absorber.Piece) {
	films := false
	for _, x := range d.columns(0, b.Min.X, b.Max.X) {
		for _, y := range d.columns(1, b.Min.Y, b.Max.Y) {
			at, top, stretch := d.ceilingOver(x, y)
			for i := len(pieces) - 1; i >= 0; i-- {
				p := pieces[i]
				upright := p.Thickness * stretch
				if p.Form == absorber.Wool {
					d.wool(name, [3]float64{x.Min, y.Min, at - upright}, [3]float64{x.Max, y.Max, top}, p.Porous, true)
				}
				if films = films || p.Form == absorber.Film; p.Form != absorber.Film {
					at -= upright
					top = at
				}
			}
		}
	}
	if films {
		d.omitted = append(d.omitted, "the film of "+name+" on a sloped ceiling")
	}
}

// columns cuts a range of an axis at the borders of the cells.
func (d *draft) columns(axis int, from, to float64) []model.Range {
	const tiny = 1e-6 // of a cell
	h := d.cells[axis]
	var list []model.Range
	for i := int(math.Floor(from/h + tiny)); float64(i)*h < to-tiny*h; i++ {
		list = append(list, model.Range{Min: max(from, float64(i)*h), Max: min(to, float64(i+1)*h)})
	}
	return list
}

// corner draws a fill as a square, or as a triangle in stairs with one step a cell. The stairs have
// the triangle's volume. Under a sloped ceiling only the part below it fills cells.
func (d *draft) corner(name string, c model.Corner, pieces []absorber.Piece) {
	if d.room.FollowsSlope(c) {
		d.eaves(name, c, pieces)
		return
	}
	fill := pieces[len(pieces)-1]
	steps := []model.Range{{Min: 0, Max: c.Leg}}
	if !c.Square {
		steps = d.columns(c.Walls[0].Axis(), 0, c.Leg) // cells fit the room exactly, so both walls give the same steps
	}
	for _, s := range steps {
		deep := c.Leg
		if !c.Square {
			deep -= (s.Min + s.Max) / 2
		}
		low, high := d.inCorner(c, s, model.Range{Max: deep})
		d.wool(name, low, high, fill.Porous, !c.Square)
	}
	if pieces[0].Form != absorber.Film {
		return
	}
	if c.Square {
		low, high := d.inCorner(c, model.Range{Max: c.Leg}, model.Range{Min: c.Leg, Max: c.Leg})
		d.sheet(name, low, high, pieces[0].SurfaceMass)
		low, high = d.inCorner(c, model.Range{Min: c.Leg, Max: c.Leg}, model.Range{Max: c.Leg})
		d.sheet(name, low, high, pieces[0].SurfaceMass)
		return
	}
	d.slantedFilm(name, c, pieces[0].SurfaceMass)
}

// inCorner returns the corners of the part of a fill that is in a range of distances from either
// wall.
func (d *draft) inCorner(c model.Corner, first, second model.Range) (low, high [3]float64) {
	a, b, along := c.Walls[0].Axis(), c.Walls[1].Axis(), c.Axis()
	low[along], high[along] = c.From, c.To
	low[a], high[a] = d.fromWall(c.Walls[0], first)
	low[b], high[b] = d.fromWall(c.Walls[1], second)
	return low, high
}

// slantedFilm draws the film before a triangle as stairs round the cells behind it. The stairs are
// longer than the slope. Their film is heavier by as much, so that a pressure moves the same amount of
// air through it.
func (d *draft) slantedFilm(name string, c model.Corner, mass float64) {
	a, b := d.cells[c.Walls[0].Axis()], d.cells[c.Walls[1].Axis()]
	slant := d.slant(c)
	height := func(i int) (cells float64) { // of the cells behind, in column i
		for d.behind(slant, c, float64(i)*a, cells*b) {
			cells++
		}
		return cells
	}
	length := height(0) * b
	for i := 0; height(i) > 0; i++ {
		length += a
	}
	slant.Stretch = length / (c.Leg * math.Sqrt2)
	mass *= slant.Stretch
	for i := 0; height(i) > 0; i++ {
		deep, end := height(i)*b, float64(i+1)*a
		low, high := d.inCorner(c, model.Range{Min: end - a, Max: end}, model.Range{Min: deep, Max: deep})
		d.sheet(name, low, high, mass)
		low, high = d.inCorner(c, model.Range{Min: end, Max: end}, model.Range{Min: height(i+1) * b, Max: height(i) * b})
		d.sheet(name, low, high, mass)
	}
	if length > 0 {
		d.scene.Slants = append(d.scene.Slants, slant)
	}
}

// slant returns the plane of a triangle's sloped face.
func (d *draft) slant(c model.Corner) scene.Slant {
	s := scene.Slant{Axis: c.Axis(), From: c.From, To: c.To, Height: -c.Leg}
	first, _ := scene.OtherAxes(c.Axis())
	for _, w := range c.Walls {
		rise := 1.0 // of the distance from the wall
		if w.Far() {
			s.Height += scene.Components(d.room.Size)[w.Axis()]
			rise = -1
		}
		if w.Axis() == first {
			s.Rise.X = rise
		} else {
			s.Rise.Y = rise
		}
	}
	return s
}

// behind reports whether the cell that begins at two distances from a corner's walls, in m, lies behind
// the film before its fill.
func (d *draft) behind(s scene.Slant, c model.Corner, first, second float64) bool {
	a, b := d.cells[c.Walls[0].Axis()], d.cells[c.Walls[1].Axis()]
	low, high := d.inCorner(c, model.Range{Min: first, Max: first + a}, model.Range{Min: second, Max: second + b})
	u, v := scene.OtherAxes(c.Axis())
	return s.Behind(r2.Vec{X: low[u], Y: low[v]}, r2.Vec{X: high[u], Y: high[v]})
}

// fromWall turns distances from a wall into coordinates on its axis.
func (d *draft) fromWall(f model.Face, r model.Range) (low, high float64) {
	if !f.Far() {
		return r.Min, r.Max
	}
	length := scene.Components(d.room.Size)[f.Axis()]
	return length - r.Max, length - r.Min
}

// wool adds porous material to the scene. step marks one of many steps of a slant.
func (d *draft) wool(name string, low, high [3]float64, v absorber.PorousVolume, step bool) {
	d.scene.Porous = append(d.scene.Porous, scene.Porous{
		Min: scene.Vec(low), Max: scene.Vec(high), PorousVolume: v, Name: name, Step: step,
	})
}

// sheet adds a film of a mass in kg/m² to the scene.
func (d *draft) sheet(name string, low, high [3]float64, mass float64) {
	d.scene.Films = append(d.scene.Films, scene.Film{Min: scene.Vec(low), Max: scene.Vec(high), SurfaceMass: mass, Name: name})
}
