package svg

import "testing"

// An arrow ends before the mark, and one that would be too short is left out.
func TestArrow(t *testing.T) {
	t.Parallel()
	d := new(Drawing)
	d.Arrow("move", XY(10, 10), XY(10+arrowLeast-1, 10))
	if len(d.Shapes) != 0 {
		t.Errorf("a short arrow is drawn: %v", d.Shapes)
	}
	d.Arrow("move", XY(10, 10), XY(10, 60))
	if len(d.Shapes) != 2 || d.Shapes[0].Y2 != Px(60-arrowGap) || d.Shapes[0].X2 != 10 {
		t.Errorf("the arrow is drawn as %v", d.Shapes)
	}
}
