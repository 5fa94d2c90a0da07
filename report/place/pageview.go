package place

import (
	"fmt"
	"slices"

	"evenbass/model/response/spectraldecay"
	"evenbass/optimize/score"
	"evenbass/report/dip"
	"evenbass/report/floormap"
	"evenbass/report/heatmap"
	"evenbass/report/html"
	"evenbass/report/live"
	"evenbass/report/present"
	"evenbass/report/room"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// pageView is what the page's template reads.
type pageView struct {
	Verdict verdict
	lead

	PlanAgain     *svg.Drawing // for the sheet with the marks
	Side          svg.Pair
	Cheaper       string // a layout that costs less elsewhere; "" if there is none
	DrawingNote   string
	Marks         text.Table
	Diagonals     text.Table
	Pieces        text.Table
	Crowding      string // of the sheet that holds the pieces, see [crowding]
	Moves         []string
	Careful       []text.Caution // of moving things
	Recipes       []html.Term
	Present       *present.View
	Faults        []faultsView
	CurvesText    string
	Responses     []channel
	Clipped       string
	Multiples     []multiple
	MultiplesNote string
	ModeGraph     svg.Pair
	ModeText      string
	Modes         text.Table
	Layouts       text.Table
	Seats         *seatsView
	Standing      *standingView
	Facing        *facingView
	Fading        *heatmap.Section
	Floor         *floormap.View
	Live          *live.View
	Breaches      []string
	LayoutsNote   string
	Assumed       string
	Furniture     []string
	Walls         text.Table
	Sources       []string
	Caveats       []string // that may change the answer
	Cautioned     string   // of the sheet that holds them, see [cautioned]
	Warnings      []string
	Limits        []string
	Measuring     []string

	html.Frame
}

type faultsView struct {
	Title string
	Lines []faultLine
}

type faultLine struct{ What, Why string }

func newPageView(in *Report) (*pageView, error) {
	p, r, s := in.Project, in.Result, in.Style
	v := &pageView{
		Frame: html.Frame{
			Heading: text.RoomName(p.Room.Name), About: "places for loudspeakers and listener", Kicker: "Bass of a room, predicted",
			Facts: facts(in), Contents: contents(in), Folded: true,
		},
		Verdict: newVerdict(in), lead: newLead(in), PlanAgain: newPlan(in, svg.Narrow), Cheaper: cheaperText(in), DrawingNote: drawingNote(in),
		Side:  svg.NewPair(func(f svg.Form) *svg.Drawing { return newSide(in, f) }),
		Marks: room.MarksTable(in.best(), p, s), Diagonals: diagonalsTable(in.best().Layout, s), Pieces: piecesTable(&p.Room, s), Crowding: crowding(&p.Room, s),
		Moves: moveLines(in.Project, in.best(), r.Now, s), Careful: text.MovingCautions(s), Recipes: recipes(r.Goal, s), Present: present.NewView(in.present()),
		CurvesText: curvesText(in), Responses: newChannels(in), Clipped: clipped(in),
		Multiples: newMultiples(in), MultiplesNote: multiplesNote(in),
		ModeText: room.ModeText, Modes: room.ModesTable(in.Modes), Layouts: layoutsTable(in), LayoutsNote: layoutsNote(in),
		Seats: newSeatsView(r, s), Standing: newStandingView(in), Facing: newFacingView(r, s),
		Assumed: assumed(in), Walls: room.WallsTable(in.Walls, s), Sources: append(room.Sources(in.Walls), room.FurnitureSources(in.Project)...),
		Furniture: room.Furniture(in.Project, s), Limits: limits(r),
		Caveats: text.Caveats(in.AllWarnings(), s), Warnings: text.WarningSentences(in.AllWarnings(), s), Measuring: measuringSteps(s),
	}
	v.Cautioned = v.lead.cautioned(v.Verdict.Trust, v.Caveats, s)
	v.PlanAgain.ID = "plan-marks"
	v.SetCautions(text.Cautions(s))
	run := in.Run
	run.Engine, run.Seed = string(r.Engine.Kind), fmt.Sprint(r.Seed)
	v.SetRun(run, "room file and seed")
	v.Again += fmt.Sprintf(" Seed %d; the search ended: %s.", r.Seed, r.Stopped)
	for _, f := range in.Faults {
		v.Faults = append(v.Faults, newFaultsView(f, s))
	}
	if len(in.Modes) > 0 {
		v.ModeGraph = svg.NewPair(func(f svg.Form) *svg.Drawing { return room.ModeGraph(in.Modes, f) })
	}
	if r.Now != nil {
		v.Breaches = text.BreachLines(r.Now.Breaches, s)
	}
	var err error
	if v.Live, err = newLive(in); err != nil {
		return nil, err
	}
	if v.Live != nil {
		v.Contents = slices.Insert(v.Contents, 0, html.Link{ID: "try", Text: "Try other places"})
	}
	v.Fading = newFading(in)
	if in.Floor == nil {
		return v, nil
	}
	m := floormap.Report{Project: p, Survey: in.Floor, Number: 1, Engine: r.Engine, Style: s}
	v.Floor, err = floormap.NewView(&m)
	return v, err
}

// contents links to the parts of the page.
func contents(in *Report) []html.Link {
	list := []html.Link{
		{ID: "places", Text: "Tape marks"}, {ID: "meaning", Text: "Meaning"}, {ID: "causes", Text: "Causes"}, {ID: "curves", Text: "Responses"},
		{ID: "layouts", Text: "Layouts"}, {ID: "modes", Text: "Modes"},
	}
	if in.Present != nil {
		list = slices.Insert(list, 1, in.present().Link())
	}
	if in.Fading.Best != nil {
		list = append(list, html.Link{ID: "fading", Text: "Decay"})
	}
	if in.Floor != nil {
		list = append(list, html.Link{ID: "floor", Text: "Floor"})
	}
	return append(list, html.Link{ID: "assumed", Text: "Assumptions"}, html.Link{ID: "measuring", Text: "Measuring"},
		html.Link{ID: "cautions", Text: "Cautions"}, html.Link{ID: "again", Text: "Re-run"})
}

func newFaultsView(f LayoutFaults, s unit.Style) faultsView {
	v := faultsView{Title: text.Sentence(faultsTitle(&f))}
	for _, fault := range f.Faults {
		v.Lines = append(v.Lines, faultLine{dip.Text(fault.Feature) + ".", dip.Why(fault, s)})
	}
	return v
}

// newFading draws how long tones stay now and with the first layout, both speakers together; nil if
// that was not read.
func newFading(in *Report) *heatmap.Section {
	var panels []heatmap.Panel
	add := func(title string, s *spectraldecay.Signal, c *score.Candidate) {
		if s != nil && c != nil {
			panels = append(panels, heatmap.NewPanel(title, s, &c.Judgement))
		}
	}
	if in.Fading.Best == nil {
		return nil
	}
	add(text.Sentence(text.NowName), in.Fading.Now, in.Result.Now)
	add(text.Sentence(text.LayoutName(1)), in.Fading.Best, in.best())
	return heatmap.NewSection("place-fading", panels...)
}
