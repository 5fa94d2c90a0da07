package concurrent

import (
	"errors"
	"testing"
)

// A value is made once while it is kept, and the one not asked for longest goes
// first.
func TestCacheKeepsTheLatest(t *testing.T) {
	c := NewCache[int, int](2)
	made := 0
	for _, k := range []int{1, 2, 1, 3, 1, 2} {
		v, err := c.Get(k, func() (int, error) { made++; return 10 * k, nil })
		if v != 10*k || err != nil {
			t.Errorf("value of %d is %v, %v", k, v, err)
		}
	}
	if made != 4 { // 1, 2, 3 and 2 again
		t.Errorf("made %d values, want 4", made)
	}
}

// What failed is tried again, by whoever asks next.
func TestCacheKeepsNoErrors(t *testing.T) {
	c := NewCache[string, int](2)
	broken := errors.New("broken")
	if _, err := c.Get("a", func() (int, error) { return 0, broken }); !errors.Is(err, broken) {
		t.Errorf("the error is %v", err)
	}
	if v, err := c.Get("a", func() (int, error) { return 7, nil }); v != 7 || err != nil {
		t.Errorf("then the value is %v, %v", v, err)
	}
}

// Values of different sizes are kept up to the limit of them all. One that is larger is kept until
// another is asked for.
func TestCacheKeepsSizes(t *testing.T) {
	c := NewSizedCache[int, int](10, func(k int) int { return k })
	made := 0
	get := func(k int) {
		if _, err := c.Get(k, func() (int, error) { made++; return k, nil }); err != nil {
			t.Fatal(err)
		}
	}
	for i, step := range []struct{ ask, made, held int }{
		{3, 1, 3}, {4, 2, 7}, {3, 2, 7}, // 4 was asked for longest ago
		{6, 3, 9}, {3, 3, 9}, {4, 4, 7}, // without 4, then without 6
		{20, 5, 20}, {2, 6, 2},
	} {
		if get(step.ask); made != step.made || c.Held() != step.held {
			t.Errorf("step %d, value %d: %d were made and %d are held, want %d and %d", i, step.ask, made, c.Held(), step.made, step.held)
		}
	}
	if _, err := c.Get(5, func() (int, error) { return 0, errors.New("broken") }); err == nil || c.Held() != 2 {
		t.Errorf("after an error (%v) %d are held, want 2", err, c.Held())
	}
}
