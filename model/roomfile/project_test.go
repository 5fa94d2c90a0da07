package roomfile

import (
	"fmt"
	"reflect"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile/phrase"
)

// same compares all fields, to the last bit.
func same(a, b any) bool { return reflect.DeepEqual(a, b) }

// anyName draws a name such as an owner, or an enemy, may write.
func anyName() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom([]string{
			"", "Spare room", "null", "~", "yes", "12", "1e3", ".nan", "- a", "a: b", "a #b", "#", "'", `"`, `\`, "{", "[x]", "&a", "*a", "!t",
			"</script><script>alert(1)</script>", " leading", "trailing ", "two  spaces", "Büro 2½ µ²", "0x10", "?", ": ", "|", ">", "%", "@", "`", ",", "---",
		}),
		rapid.StringN(0, 30, -1),
	).Filter(func(s string) bool { _, err := phrase.Name(s); return err == nil })
}

// anyProject draws a valid project with something in every part of the file.
func anyProject() *rapid.Generator[*model.Project] {
	return rapid.Custom(func(t *rapid.T) *model.Project {
		p := defaults()
		size := r3.Vec{
			X: rapid.Float64Range(3.5, 9).Draw(t, "length"),
			Y: rapid.Float64Range(3, 7).Draw(t, "width"),
			Z: rapid.Float64Range(2.1, 4).Draw(t, "height"),
		}
		p.Room = model.Room{Name: anyName().Draw(t, "name"), Size: size}
		if rapid.Bool().Draw(t, "warm") {
			p.Room.Temperature = rapid.Float64Range(264, 318).Draw(t, "temperature")
		}
		for _, f := range model.Faces {
			p.Room.Walls[f] = anySurface().Draw(t, f.String())
		}
		drawMaterials(t, p)
		drawBuilt(t, p)
		drawSpeakers(t, p)
		drawSeats(t, p)
		drawListening(t, p)
		drawFurniture(t, p)
		p.Report = model.TitleBlock{
			Title: anyName().Draw(t, "title"), Client: anyName().Draw(t, "client"), Project: anyName().Draw(t, "project"), Author: anyName().Draw(t, "author"),
			Date: anyName().Draw(t, "date"), Notes: rapid.SampledFrom([][]string{nil, {"one: note"}, {"two", "notes # here"}}).Draw(t, "notes"), Logo: anyName().Draw(t, "logo"),
		}
		p.Warnings = warnings(p)
		return p
	}).Filter(func(p *model.Project) bool { return len(p.Validate()) == 0 })
}

func anySurface() *rapid.Generator[model.Surface] {
	return rapid.Custom(func(t *rapid.T) model.Surface {
		switch rapid.IntRange(0, 2).Draw(t, "way") {
		case 0:
			return model.Surface{Construction: rapid.SampledFrom(material.Names()).Draw(t, "construction")}
		case 1:
			return model.Surface{Impedance: complex(rapid.Float64Range(1e-9, 1e9).Draw(t, "re"), rapid.Float64Range(-1e3, 1e3).Draw(t, "im"))}
		}
		var s model.Surface
		for f := 20.0; f < 400; f *= rapid.Float64Range(1.1, 3).Draw(t, "step") {
			s.Absorption = append(s.Absorption, model.Absorption{Frequency: f, Coefficient: rapid.Float64Range(0, 1).Draw(t, "alpha")})
		}
		return s
	})
}

func drawBuilt(t *rapid.T, p *model.Project) {
	r := &p.Room
	r.Openings = append(r.Openings, model.Opening{
		Kind: "door", Name: anyName().Draw(t, "door"), Surface: anySurface().Draw(t, "leaf"),
		Patch: model.Patch{Face: model.Back, Along: rapid.Float64Range(0, 1).Draw(t, "from"), Width: rapid.Float64Range(0.6, 0.9).Draw(t, "leaf"), Height: 2},
		Swing: rapid.SampledFrom([]string{"", "inward", "outward", "sliding"}).Draw(t, "swing"),
	})
	if rapid.Bool().Draw(t, "hole") {
		r.Openings = append(r.Openings, model.Opening{Kind: "hole", Patch: model.Patch{Face: model.Ceiling, Along: 0.1, Up: 0.2, Width: 0.5, Height: 0.5}})
	}
	if rapid.Bool().Draw(t, "block") {
		r.Blocks = append(r.Blocks, model.Block{Name: anyName().Draw(t, "pier"), Max: r3.Vec{X: 0.3, Y: rapid.Float64Range(0.1, 0.5).Draw(t, "deep"), Z: r.Size.Z}})
	}
	if rapid.Bool().Draw(t, "treated") {
		layers := rapid.SliceOfN(rapid.SampledFrom(layerPhrases), 1, 5).Draw(t, "layers")
		tr := model.Treatment{Name: anyName().Draw(t, "treatment"), Patch: model.Patch{Face: model.Right, Along: 0.3, Width: 1, Height: r.Size.Z}}
		for _, m := range p.Materials {
			layers = append(layers, m.Name+" 0.03 m", m.Name)
		}
		for _, text := range layers {
			l, err := phrase.Layer(text, p.Materials...)
			if err != nil {
				t.Fatal(err)
			}
			tr.Layers = append(tr.Layers, l)
		}
		r.Treatments = append(r.Treatments, tr)
	}
}

// drawMaterials draws materials of the owner's own, each with its own thickness.
func drawMaterials(t *rapid.T, p *model.Project) {
	if rapid.Bool().Draw(t, "felt") {
		p.Materials = append(p.Materials, model.Material{Name: "cotton felt", Source: anyName().Draw(t, "source"), Layer: model.Layer{
			Kind: model.PorousLayer, Thickness: rapid.Float64Range(0.001, 0.1).Draw(t, "felt"),
			Resistivity: rapid.Float64Range(600, 1e5).Draw(t, "resistivity"), Porosity: rapid.Float64Range(0.1, 1).Draw(t, "porosity"),
			Tortuosity: rapid.Float64Range(1, 2).Draw(t, "tortuosity"), ViscousLength: rapid.Float64Range(1e-6, 1e-3).Draw(t, "viscous"),
			Frame: rapid.SampledFrom([]model.Frame{model.FrameUnknown, model.FrameFixed, model.FrameLimp}).Draw(t, "frame"),
		}})
	}
	if rapid.Bool().Draw(t, "sheet") {
		p.Materials = append(p.Materials, model.Material{Name: "steel-faced sheet", Layer: model.Layer{
			Kind: model.PanelLayer, SurfaceMass: rapid.Float64Range(1, 30).Draw(t, "mass"), Thickness: 0.002,
			Damping: rapid.Float64Range(1, 1e3).Draw(t, "damping"), Stiffness: rapid.Float64Range(1, 1e7).Draw(t, "stiffness"),
		}})
	}
}

var layerPhrases = []string{
	"film 100 µm", "film 4 mil", "film 0.2 kg/m²", "wool 200 mm 6 kPa·s/m²", "wool 100 mm 12 kPa·s/m² 40 kg/m³",
	"stone wool batts 100 mm", "air 100 mm", "perforated 6 mm holes 5 mm open 3 %", "slotted 9 mm slots 4 mm open 5 %",
	"panel 12.5 mm 8.8 kg/m²", "plywood 4 mm", "wool 2 in 6 krayl/m limp", "kraft paper",
	"wool 40 mm 8 kPa·s/m² held porosity 98 % tortuosity 1.1 viscous length 130 µm thermal length 260 µm",
	"panel 8.8 kg/m² damping 120 Pa·s/m stiffness 500000 Pa/m",
}

func drawSpeakers(t *rapid.T, p *model.Project) {
	s := &p.Speakers
	s.Free = rapid.Bool().Draw(t, "free")
	if rapid.Bool().Draw(t, "boxed") {
		s.Box = model.Dimensions{Depth: rapid.Float64Range(0.1, 0.4).Draw(t, "depth"), Width: 0.2, Height: rapid.Float64Range(0.2, 0.5).Draw(t, "tall")}
	}
	s.WooferBelow = rapid.Float64Range(-0.1, 0.3).Draw(t, "below")
	s.AxisHeights = rapid.SliceOfN(rapid.Float64Range(0.8, 1.4), 1, 3).Draw(t, "axis")
	s.RearClearance = rapid.Float64Range(0, 0.2).Draw(t, "rear")
	s.SideClearance = rapid.Float64Range(0, 0.3).Draw(t, "side")
	s.LowLimit = rapid.SampledFrom([]float64{0, 38.5, 50}).Draw(t, "low")
	if s.LowLimit > 0 {
		s.Alignment = rapid.SampledFrom([]model.Alignment{model.Sealed, model.Ported}).Draw(t, "alignment")
	}
	if rapid.Bool().Draw(t, "apart") {
		s.Apart = model.Range{Min: rapid.Float64Range(0, 1).Draw(t, "near"), Max: rapid.Float64Range(1.1, 2.5).Draw(t, "far")}
	}
	if s.Placed = rapid.Bool().Draw(t, "placed"); s.Placed {
		s.Left = r3.Vec{X: rapid.Float64Range(0.75, 1).Draw(t, "x"), Y: p.Room.Size.Y/2 - 0.6, Z: 1}
		s.Right = r3.Vec{X: 0.8, Y: p.Room.Size.Y/2 + 0.6, Z: rapid.Float64Range(0.9, 1.1).Draw(t, "z")}
	}
	if rapid.Bool().Draw(t, "zoned") {
		s.Zones = []model.Zone{{X: model.Range{Min: 0.5, Max: rapid.Float64Range(1, 2).Draw(t, "to")}}}
	}
}

func drawSeats(t *rapid.T, p *model.Project) {
	for i := range rapid.IntRange(1, 3).Draw(t, "seats") {
		s := model.Seat{
			Name: fmt.Sprint("seat ", i), Height: rapid.Float64Range(0.9, 1.4).Draw(t, "ears"),
			Weight: rapid.Float64Range(0.1, 2).Draw(t, "weight"),
		}
		if s.Placed = rapid.Bool().Draw(t, "sits"); s.Placed {
			s.At = r3.Vec{X: rapid.Float64Range(1.5, 2.5).Draw(t, "x"), Y: 1.5, Z: rapid.Float64Range(0.9, 1.4).Draw(t, "z")}
		} else {
			s.Zones = []model.Zone{{X: model.Range{Min: 1.2, Max: rapid.Float64Range(1.2, 2.8).Draw(t, "to")}}}
		}
		if s.Placed && p.Seats != nil && p.Seats[0].Placed || i == 0 {
			s.On = rapid.SampledFrom([]string{"", "sofa"}).Draw(t, "on")
		}
		p.Seats = append(p.Seats, s)
	}
}

func drawListening(t *rapid.T, p *model.Project) {
	if rapid.Bool().Draw(t, "no limits") {
		p.Listening.Distance, p.Listening.Angle = model.Range{}, model.Range{}
	} else {
		low := rapid.Float64Range(0.1, 1.5).Draw(t, "angle")
		p.Listening.Angle = model.Range{Min: low, Max: low + rapid.Float64Range(0, 1).Draw(t, "wider")}
	}
	p.Listening.BackDistance = rapid.Float64Range(0, 0.7).Draw(t, "back")
	p.Listening.Balance = rapid.SampledFrom([]float64{0, 0.03, 0.2}).Draw(t, "balance")
	if rapid.Bool().Draw(t, "clear") {
		desk := model.Block{Name: "desk", Min: r3.Vec{Y: 1}, Max: r3.Vec{X: 0.5, Y: 2, Z: 0.74}}
		switch desk.Carries = rapid.Bool().Draw(t, "carries"); {
		case p.Speakers.Placed:
			desk.With = rapid.SampledFrom([]model.Tie{model.Untied, model.WithSpeakers}).Draw(t, "with")
		default:
			desk.Along = rapid.Float64Range(0, 0.5).Draw(t, "along")
		}
		p.KeepClear = []model.Block{desk}
	}
	p.Goal = model.Goal{
		From: rapid.Float64Range(15, 60).Draw(t, "from"), To: rapid.Float64Range(100, 315).Draw(t, "to"),
		Smoothing: rapid.IntRange(1, 96).Draw(t, "smoothing"),
	}
}

// drawFurniture draws pieces of every kind, each in a part of the room of its own.
func drawFurniture(t *rapid.T, p *model.Project) {
	kinds := rapid.SliceOfNDistinct(rapid.SampledFrom(furnitureKinds()), 0, 4, rapid.ID).Draw(t, "furniture")
	for i, k := range kinds {
		piece := model.Furnishing{Block: model.Block{Name: anyName().Draw(t, "piece"), Furniture: model.Furniture{Kind: k, Item: i + 1}}}
		side := rapid.Float64Range(0.2, 0.4).Draw(t, "side")
		piece.Min = r3.Vec{X: p.Room.Size.X - 1.1 + 0.5*float64(i%2), Y: 0.8 + 0.5*float64(i/2)}
		piece.Max = r3.Add(piece.Min, r3.Vec{X: side, Y: side, Z: rapid.Float64Range(0.4, 2).Draw(t, "tall")})
		if k == model.Rug {
			piece.Max.Z = 0
		}
		if k.Row().Effect == model.Stuffed && rapid.Bool().Draw(t, "filled") {
			fill, err := phrase.Fill(rapid.SampledFrom([]string{"wool 7 kPa·s/m²", "foam", "wool 12 kPa·s/m² 40 kg/m³ limp"}).Draw(t, "filling"), p.Materials)
			if err != nil {
				t.Fatal(err)
			}
			piece.Filling = fill
		}
		p.Furnish(piece)
	}
}
