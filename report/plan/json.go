package plan

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"evenbass/optimize/plan"
	buildpage "evenbass/report/build"
	"evenbass/report/place"
	stagepage "evenbass/report/stage"
	whatifpage "evenbass/report/whatif"
)

// FormatName is the first value of every document that [JSON] writes.
const FormatName = "evenbass plan 1"

// planDoc is a plan in JSON.
type planDoc struct {
	Format  string          `json:"format"`
	Moved   bool            `json:"treatments_judged_at_layout_1"`
	Places  json.RawMessage `json:"places"`
	Options json.RawMessage `json:"options"` // null without
	Stages  []stagepage.Doc `json:"stages"`
	Build   *buildDoc       `json:"build"`
	Missing []missingDoc    `json:"missing"`
}

type buildDoc struct {
	Summary string   `json:"summary"`
	Buy     []string `json:"buy"`
}

type missingDoc struct {
	Step string `json:"step"`
	Why  string `json:"why"`
}

// steps are the names of the steps in JSON.
var steps = map[plan.Step]string{plan.CompareOptions: "options", plan.ChooseStages: "stages", plan.BuildPieces: "build"}

// JSON writes a plan for other programs: one object, whose "places" and "options" are the documents
// of the commands place and whatif. It carries no date, so that equal runs give equal bytes.
func JSON(w io.Writer, r Report) error {
	doc := planDoc{Format: FormatName, Moved: r.Plan.Moved, Stages: []stagepage.Doc{}, Missing: []missingDoc{}}
	var err error
	if doc.Places, err = raw(func(w io.Writer) error { return place.JSON(w, r.places()) }); err != nil {
		return err
	}
	if r.Plan.Options != nil {
		if doc.Options, err = raw(func(w io.Writer) error { return whatifpage.JSON(w, r.options()) }); err != nil {
			return err
		}
	}
	if r.Plan.Stages != nil {
		doc.Stages = stagepage.Docs(r.stages())
	}
	if r.Plan.Pieces != nil {
		b := r.pieces()
		doc.Build = &buildDoc{buildpage.Headline(b), buildpage.Buying(b)}
	}
	for _, m := range r.Plan.Missing {
		doc.Missing = append(doc.Missing, missingDoc{steps[m.Step], r.why(m)})
	}
	out := json.NewEncoder(w)
	out.SetIndent("", "  ")
	if err := out.Encode(doc); err != nil {
		return fmt.Errorf("report: plan as JSON: %w", err)
	}
	return nil
}

// raw returns what a writer of JSON writes.
func raw(write func(io.Writer) error) (json.RawMessage, error) {
	var b bytes.Buffer
	err := write(&b)
	return b.Bytes(), err
}
