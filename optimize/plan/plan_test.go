package plan

import (
	"context"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/roomfile"
	"evenbass/optimize/engines"
	"evenbass/optimize/study"
)

// closet is a room so small that a search of it is quick.
const closet = `room: {length: 3.0 m, width: 2.4 m, height: 2.2 m}
walls: {front: plasterboard on studs, back: plasterboard on studs, left: plasterboard on studs, right: plasterboard on studs, floor: timber on joists, ceiling: plasterboard on joists}
speakers:
  box: {depth: 28 cm, width: 21 cm, height: 34 cm}
  may_stand: [{x: 0.3 m to 0.6 m, y: 0.4 m to 2.0 m}]
seats:
  - {name: chair, may_move: [{x: 1.5 m to 1.7 m}]}
`

func project(t *testing.T, text string) *model.Project {
	t.Helper()
	p, err := roomfile.Read(strings.NewReader(text), "closet.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A quick plan has places, and says of every other step why it is missing. Where nothing stands
// yet, treatments are judged with things in the first layout's places.
func TestMakeQuick(t *testing.T) {
	p := project(t, closet)
	s, err := study.New(t.Context(), engines.Auto, p)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Make(t.Context(), s, Settings{Quick: true, Places: study.PlaceSettings{Seed: 1, Layouts: 1, Sketch: true}})
	if err != nil {
		t.Fatal(err)
	}
	for step, want := range map[Step]Reason{CompareOptions: LeftOut, ChooseStages: LeftOut, BuildPieces: Nothing} {
		if m := missing(plan, step); m == nil || m.Why != want {
			t.Errorf("step %d is missing as %+v, want reason %d", step, m, want)
		}
	}
	now, ok := plan.Placed.Now()
	if best := plan.Places.Result.Candidates[0].Layout; !plan.Moved || !ok || now.Left != best.Left || now.Seat != best.Seat {
		t.Errorf("things stand at %+v, want the first layout's %+v", now, best)
	}
	if _, ok := p.Now(); ok {
		t.Error("the project itself has been moved")
	}
}

// What cannot be done is said with its reason, and nothing is computed.
func TestMissing(t *testing.T) {
	p := project(t, closet+`options:
  - name: in the way
    add:
      - {name: heap, form: panel, from: [2.3 m, 0.4 m, 0 m], to: [2.8 m, 1.0 m, 0.5 m], layers: [wool 500 mm 6 kPa·s/m²]}
keep_clear:
  - {name: way, from: [2.2 m, 0.3 m, 0 m], to: [2.9 m, 1.2 m, 2.0 m]}
`)
	at := p.WithLayout(model.Layout{Left: r3.Vec{X: 0.5, Y: 0.7, Z: 1}, Right: r3.Vec{X: 0.5, Y: 1.7, Z: 1}, Seat: r3.Vec{X: 1.6, Y: 1.2, Z: 1.2}})
	plan := &Plan{Study: &study.Study{Project: p}, Placed: at}
	plan.compare(t.Context(), nil)
	plan.stages(t.Context(), nil)
	if m := missing(plan, CompareOptions); m == nil || m.Why != AllBlocked || len(plan.Blocked) != 1 {
		t.Errorf("an option in the way is missing as %+v, blocked %v", m, plan.Blocked)
	}
	if m := missing(plan, ChooseStages); m == nil || m.Why != Impossible || m.Err == nil {
		t.Errorf("stages without a stock are missing as %+v", m)
	}
	past, done := context.WithDeadline(t.Context(), time.Unix(0, 0))
	defer done()
	stopped, stop := context.WithCancel(t.Context())
	stop()
	for ctx, want := range map[context.Context]Reason{past: OutOfTime, stopped: Stopped} {
		plan := &Plan{Study: &study.Study{Project: project(t, closet)}, Placed: at}
		plan.compare(ctx, nil)
		plan.stages(ctx, nil)
		if a, b := missing(plan, CompareOptions), missing(plan, ChooseStages); a == nil || b == nil || a.Why != want || b.Why != want {
			t.Errorf("in a context that has ended, steps are missing as %+v and %+v, want reason %d", a, b, want)
		}
	}
}

// missing returns why a step is missing, or nil if it is there.
func missing(p *Plan, step Step) *Missing {
	for i := range p.Missing {
		if p.Missing[i].Step == step {
			return &p.Missing[i]
		}
	}
	return nil
}
