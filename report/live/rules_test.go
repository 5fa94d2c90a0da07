package live

import (
	"encoding/json"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/testroom"
	"evenbass/report/reporttest"
)

// testRules tries the rules of rooms that are no box, with inner corners, slopes, obstacles and
// other seats, at places all over them and beyond.
func testRules(t *testing.T, b *reporttest.Tab) {
	for _, name := range []string{"l-room", "sloped-attic", "spare-room", "attic-free"} {
		p := testroom.Read(t, name)
		furnish(p)
		rng := rand.New(rand.NewPCG(5, 6))
		place := func(z float64) r3.Vec {
			return r3.Vec{X: (1.2*rng.Float64() - 0.1) * p.Room.Size.X, Y: (1.2*rng.Float64() - 0.1) * p.Room.Size.Y, Z: z}
		}
		var layouts []model.Layout
		var list []layout
		for range 100 {
			z := 0.4 + 1.4*rng.Float64()
			l := model.Layout{Left: place(z), Right: place(z), Seat: place(1.2)}
			layouts, list = append(layouts, l), append(list, layout{"", placeOf(l.Left), placeOf(l.Right), placeOf(l.Seat)})
		}
		question, err := json.Marshal(struct {
			Rules   rules
			Layouts []layout
		}{newRules(p), list})
		if err != nil {
			t.Fatal(err)
		}
		said := reporttest.Value[string](t, b, `(q => JSON.stringify(q.Layouts.map(l => live.breaches(q.Rules, l))))(`+string(question)+`)`)
		var found [][]breach
		if err := json.Unmarshal([]byte(said), &found); err != nil {
			t.Fatal(err)
		}
		for i, l := range layouts {
			sameBreaches(t, found[i], p.Breaches(l))
		}
	}
}

// furnish puts a desk that goes with the speakers, a table that goes with the seat, a shelf that may
// move by itself, a bench that carries speakers and a mate on the main seat's sofa into a room.
func furnish(p *model.Project) {
	box := func(name string, x, y, z float64, r model.Reach) model.Block {
		return model.Block{Name: name, Min: r3.Vec{X: x, Y: y}, Max: r3.Vec{X: x + 0.8, Y: y + 1.2, Z: z}, Reach: r}
	}
	p.KeepClear = append(p.KeepClear,
		box("a desk", 0.2, 0.8, 0.7, model.Reach{With: model.WithSpeakers}), box("a table", 1.5, 1, 1.4, model.Reach{With: model.WithSeat}),
		box("a shelf", 1.2, 0.5, 1.5, model.Reach{Along: 0.4}), box("a bench", 2, 0.5, 0.4, model.Reach{Carries: true}))
	main := &p.Seats[0]
	if !main.Placed {
		main.Placed, main.At = true, r3.Vec{X: 1.9, Y: 1.6, Z: 1.2}
	}
	main.On = "sofa"
	p.Seats = append(p.Seats, model.Seat{Name: "mate", On: "sofa", Placed: true, At: r3.Add(main.At, r3.Vec{X: 0.1, Y: 0.7}), Height: 1.2})
}
