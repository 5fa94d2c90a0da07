package scene_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// Validate says what is wrong with a scene.
func TestValidate(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		want  string
		spoil func(*scene.Scene)
	}{
		{"width must be above 0", func(s *scene.Scene) { s.Size.Y = -3 }},
		{"length must be above 0", func(s *scene.Scene) { s.Size.X = math.NaN() }},
		{"air needs speed", func(s *scene.Scene) { s.Air.Speed = 0 }},
		{"not passive", func(s *scene.Scene) { s.Walls[0].List = []fit.Branch{{Mass: -1}} }},
		{"crosses itself", func(s *scene.Scene) { s.Outline = []r2.Vec{{}, {X: 3, Y: 2}, {X: 3}, {Y: 2}} }},
		{"outside the bounding box", func(s *scene.Scene) { s.Outline = []r2.Vec{{}, {X: 4}, {X: 3, Y: 2}} }},
		{"block 1 has no volume", func(s *scene.Scene) { s.Blocks[0].Max.X = 1 }},
		{"no room for air", func(s *scene.Scene) { s.Slopes[0].Height = -5 }},
		{"porous volume 1", func(s *scene.Scene) { s.Porous[0].Resistance = 0 }},
		{"film 1", func(s *scene.Scene) { s.Films[0].Max.X = 1 }},
	} {
		s := wavetest.Den()
		test.spoil(&s)
		if err := s.Validate(); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want one with %q", err, test.want)
		}
	}
}
