package place

import (
	"evenbass/optimize/cause"
	"evenbass/report/data"
)

// dipDoc is one of the deepest dips of a layout with the causes that the text names.
type dipDoc struct {
	Layout    int        `json:"layout"` // its rank; 0 is the present layout
	Channel   string     `json:"channel"`
	Frequency data.Fixed `json:"frequency_hz"`
	Level     data.Fixed `json:"level_db"` // against the band's mean
	Width     data.Fixed `json:"width_octaves"`
	Causes    []causeDoc `json:"causes"`
}

type causeDoc struct {
	Kind string      `json:"kind"`           // boundary, mode or speakers
	Wall string      `json:"wall,omitempty"` // of a boundary
	Mode *data.Fixed `json:"mode_hz,omitempty"`
	Cure data.Fixed  `json:"cure_db"` // how far the dip shrinks without it
}

func newDipDocs(in *Report) []dipDoc {
	var docs []dipDoc
	for _, layout := range in.Faults {
		for _, d := range layout.Faults {
			doc := dipDoc{
				Layout: layout.Number, Channel: d.Feature.Channel.String(), Frequency: data.Hertz(d.Feature.Frequency),
				Level: data.Decibel(d.Feature.Level), Width: data.Rounded(d.Feature.Width, 3), Causes: []causeDoc{},
			}
			for _, c := range d.Named() {
				doc.Causes = append(doc.Causes, newCauseDoc(c))
			}
			docs = append(docs, doc)
		}
	}
	return docs
}

func newCauseDoc(c cause.Cause) causeDoc {
	doc := causeDoc{Kind: "boundary", Cure: data.Decibel(c.Cure)}
	switch c.Kind {
	case cause.ModeSuspect:
		doc.Kind, doc.Mode = "mode", new(data.Hertz(c.Mode.Frequency))
	case cause.SpeakerSuspect:
		doc.Kind = "speakers"
	default:
		doc.Wall = c.Boundary.String()
	}
	return doc
}
