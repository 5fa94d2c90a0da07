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
