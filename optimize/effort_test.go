package optimize

import (
	"context"
	"runtime"
	"sync"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// counting counts the different seats that an engine is asked for.
type counting struct {
	model.Engine
	mu    sync.Mutex
	asked map[r3.Vec]bool
}

func (c *counting) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	c.mu.Lock()
	if c.asked == nil {
		c.asked = map[r3.Vec]bool{}
	}
	c.asked[seat] = true
	c.mu.Unlock()
	return c.Engine.Field(ctx, seat)
}

// The fields that a wide search asks its wide engine for are known beforehand to the
// last one, and those of a zone that is a point are the fewest.
func TestEffortCountsTheWideFields(t *testing.T) {
	t.Parallel()
	p := small()
	room := newModal(p.Room.Size)
	wide := &counting{Engine: room}
	s := brief
	s.Wide = wide
	effort, err := EffortOf(p, room, s)
	if err != nil {
		t.Fatal(err)
	}
	result, err := Place(context.Background(), p, room, s)
	if err != nil {
		t.Fatal(err)
	}
	if 2*effort.Ratings < result.Evaluations || effort.Sums <= 0 {
		t.Errorf("%d layouts were rated, said %d of %g sums", result.Evaluations, effort.Ratings, effort.Sums)
	}
	if len(wide.asked) != effort.Wide || effort.Wide == 0 {
		t.Errorf("asked for %d seats, said %d", len(wide.asked), effort.Wide)
	}
	for _, seat := range effort.First {
		if !wide.asked[seat] {
			t.Errorf("nobody asked for the seat at %v", seat)
		}
	}
	if n := len(effort.First); n == 0 || n > runtime.GOMAXPROCS(0) {
		t.Errorf("%d seats are the first", n)
	}
	still := *p
	still.Seats = append(still.Seats[:0:0], still.Seats...)
	still.Seats[0].Zones = []model.Zone{{X: model.Range{Min: 1.8, Max: 1.8}}}
	few, err := EffortOf(&still, room, s)
	if err != nil || few.Wide >= effort.Wide || few.Exact != effort.Exact {
		t.Errorf("a seat that stays: %+v, one that moves: %+v (%v)", few, effort, err)
	}
}

// Without a wide engine, what is refined once more counts at the most.
func TestEffortWithoutWideEngine(t *testing.T) {
	t.Parallel()
	p := studio()
	effort, err := EffortOf(p, newModal(p.Room.Size), Settings{})
	if err != nil {
		t.Fatal(err)
	}
	_, _, table := tableOf(t, p)
	if n := len(table.Seats.Places()); effort.Wide != 0 || effort.Exact < n {
		t.Errorf("%+v for a table of %d seats", effort, n)
	}
}

// A rating of a free pair takes many times the sums of a mirrored one, whose head stays on
// a line.
func TestEffortOfFreePair(t *testing.T) {
	t.Parallel()
	room := newModal(studio().Room.Size)
	s := brief
	s.Wide = room
	mirrored, err := EffortOf(studio(), room, s)
	if err != nil {
		t.Fatal(err)
	}
	free, err := EffortOf(freeStudio(), room, s)
	if err != nil || free.Sums < 2*mirrored.Sums || free.Ratings != mirrored.Ratings {
		t.Errorf("free %+v, mirrored %+v (%v)", free, mirrored, err)
	}
}

// Zones that no table covers are refused before anything is computed.
func TestWideZonesTooLarge(t *testing.T) {
	t.Parallel()
	p := freeStudio()
	p.Room.Size = r3.Vec{X: 40, Y: 40, Z: 3}
	p.Speakers.Zones, p.Seats[0].Zones = nil, nil
	room := newModal(r3.Vec{X: 4, Y: 3, Z: 2.4})
	s := Settings{Wide: room}
	_, err := EffortOf(p, room, s)
	if err == nil || err.Error() != zonesTooLarge(room).Error() {
		t.Errorf("effort: error %v", err)
	}
	if _, err := Place(context.Background(), p, room, s); err == nil || err.Error() != zonesTooLarge(room).Error() {
		t.Errorf("place: error %v", err)
	}
}
