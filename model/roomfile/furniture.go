package roomfile

import (
	"evenbass/model"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

// furniture is the list of what the owner has. In the model each piece is a solid block, a treatment or a box of air
// that says which piece it is.
func furniture(f *form, p *model.Project) {
	var pieces []model.Furnishing
	if !f.reading() {
		pieces = p.Furnishings()
	}
	list(f, "furniture", &pieces, model.Furnishing{}, func(g *form, piece *model.Furnishing) { furnishing(g, piece, p.Materials) })
	if !f.reading() {
		return
	}
	for i, piece := range pieces {
		if piece.Item = i + 1; piece.Kind != 0 {
			p.Furnish(piece)
		}
	}
}

func furnishing(f *form, piece *model.Furnishing, own []model.Material) {
	name := piece.Name
	if name == piece.Kind.String() {
		name = ""
	}
	may(f, "name", &name, nameValue)
	piece.Name = name
	must(f, "kind", "sofa", &piece.Kind, named(furnitureKinds()...))
	switch {
	case piece.Kind == 0:
		f.know("from", "to", "filling") // all of them may be right
		return
	case piece.Kind == model.Rug:
		rectangle(f, &piece.Block)
		return
	}
	corner(f, "from", &piece.Min)
	corner(f, "to", &piece.Max)
	if piece.Kind.Row().Effect == model.Stuffed && (f.reading() || !piece.Usual()) {
		preset(f, "filling", &piece.Filling, stuffing(own))
	}
}

func furnitureKinds() []model.FurnitureKind {
	var list []model.FurnitureKind
	for _, r := range model.FurnitureKinds() {
		list = append(list, r.Kind)
	}
	return list
}

// stuffing is the codec of what fills a piece of furniture. Its thickness is written only if the phrase that was read
// has it, or if no such phrase is kept.
func stuffing(own []model.Material) codec[model.Layer] {
	return codec[model.Layer]{
		func(text string) (model.Layer, error) {
			l, err := phrase.Fill(text, own)
			if err == nil && l.Kind != model.PorousLayer {
				err = &quantity.Mistake{What: model.Sprintf("%q fills nothing", text), Right: "write wool, or another porous material, such as wool 10 kPa·s/m²"}
			}
			return l, err
		},
		func(l model.Layer) string {
			open := l
			open.Thickness = 0
			if same, err := phrase.Fill(l.Text, own); err == nil && (same == l || same == open) {
				return l.Text
			}
			return phrase.Format(l, own)
		},
	}
}

// listed returns the entries of a list that are no furniture, when writing.
func listed[T any](f *form, all *[]T, furnished func(*T) bool) *[]T {
	if f.reading() {
		return all
	}
	var rest []T
	for i := range *all {
		if !furnished(&(*all)[i]) {
			rest = append(rest, (*all)[i])
		}
	}
	return &rest
}

func isFurniture(b *model.Block) bool { return b.Kind != 0 }
