package trust

import "testing"

func TestFigure(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		v              float64
		digits         int
		figure, within string
	}{
		{0.0417, 2, "0.042", "0.042"}, {0.99, 1, "1", "1"}, {1.3e-4, 2, "1.3e-4", "1.3e-4"}, {2.041, 2, "2", "2.1"}, {0.00401, 1, "0.004", "0.005"}, {12.34, 3, "12.3", "12.4"},
	} {
		if f, w := Figure(c.v, c.digits), Within(c.v, c.digits); f != c.figure || w != c.within {
			t.Errorf("%v to %d digits is %s, within %s; want %s and %s", c.v, c.digits, f, w, c.figure, c.within)
		}
	}
}

// README's table can be read, and no two rows are about the same.
func TestRows(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, r := range Rows(t) {
		if r.Against == "" || r.Seen == "" || r.Renewed == "" || seen[r.What] {
			t.Errorf("not a whole row, or one of two: %+v", r)
		}
		seen[r.What] = true
	}
}
