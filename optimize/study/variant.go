package study

import (
	"context"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/engines"
	"evenbass/optimize/series"
)

// Variant is the packed field of a room with one of its options carried out, over the same places as that of
// the room as it stands.
type Variant struct {
	Option string
	Engine model.EngineKind
	Table  *series.Table
}

// largestVariants is the most bytes that all packed fields of a page may have, that of the room as
// it stands included. A page takes four characters for three bytes.
const largestVariants = 1000 << 10

// Variants packs the field with each option of the room file, over the places of a table and checked about a
// seat, as far as a page has room for. Options that are left out are warnings.
func (s *Study) Variants(ctx context.Context, base *series.Table, seat r3.Vec, progress model.Progress) (list []Variant, warnings []model.Warning, err error) {
	packed, err := base.Packed()
	if err != nil {
		return nil, nil, err
	}
	free, options := largestVariants-len(packed), s.Project.Options
	for i := range options {
		progress.Report("packing the field with the options", float64(i)/float64(len(options)))
		t, kind, err := s.variant(ctx, &options[i], base, seat, min(free, largestSeries))
		switch {
		case ctx.Err() != nil:
			return list, warnings, ctx.Err()
		case err != nil:
			warnings = append(warnings, model.OptionUntried{Name: options[i].Name, Why: err.Error()})
			continue
		case t == nil:
			warnings = append(warnings, model.OptionUntried{Name: options[i].Name})
			continue
		}
		if packed, err = t.Packed(); err != nil {
			return list, warnings, err
		}
		free -= len(packed)
		list = append(list, Variant{options[i].Name, kind, t})
	}
	return list, warnings, nil
}

// variant packs the field with an option; nil if that is too much for a page.
func (s *Study) variant(ctx context.Context, o *model.Option, base *series.Table, seat r3.Vec, largest int) (*series.Table, model.EngineKind, error) {
	p, err := s.Project.With(o)
	if err != nil {
		return nil, "", err
	}
	with, err := New(ctx, engines.Auto, p)
	if err != nil {
		return nil, "", err
	}
	t, err := with.packed(ctx, base.Domain, seat, largest)
	return t, with.Kind, err
}
