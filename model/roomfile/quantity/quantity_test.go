package quantity

import (
	"fmt"
	"testing"
)

func TestNearest(t *testing.T) {
	t.Parallel()
	known := []string{"length", "width", "height"}
	for word, want := range map[string]string{"lenght": "length", "widht": "width", "hieght": "height", "Length": "length", "colour": "", "": ""} {
		if got := Nearest(word, known); got != want {
			t.Errorf("nearest to %q is %q, want %q", word, got, want)
		}
	}
	// Distances by hand; a swap of neighbours counts once (Damerau 1964).
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "abc", 3}, {"abc", "", 3}, {"kitten", "sitting", 3}, {"ab", "ba", 1}, {"same", "same", 0}} {
		if got := editDistance(c.a, c.b); got != c.want {
			t.Errorf("distance of %q and %q is %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func ExampleParseLength() {
	for _, text := range []string{"3.4 m", `11'2"`, `11'2`, "11 ft 2 1/2 in", "4.7"} {
		m, err := ParseLength(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%.4f m\n", m)
	}
	// Output:
	// 3.4000 m
	// 3.4036 m
	// 3.4036 m
	// 3.4163 m
	// "4.7" has no unit; write 4.7 m (units: m, cm, mm, ft, in)
}
