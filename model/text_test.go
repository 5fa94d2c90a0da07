package model

import "testing"

// Persian needs its non-joiner, Hebrew its direction mark, an emoji family its joiners;
// a terminal's escape sequences and an override of the direction do not get through.
func TestPrintable(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"Spare room":             "Spare room",
		"می\u200cخواهم":          "می\u200cخواهم",
		"חדר\u200f (2)":          "חדר\u200f (2)",
		"👨\u200d👩\u200d👧 den":    "👨\u200d👩\u200d👧 den",
		"\x1b[31mred":            "?[31mred",
		"a\tb\nc\u2028d":         "a b c d",
		"\u202eabc\u2066d\u2069": "?abc?d?",
		"\ufeffx\x00":            "?x?",
		"bad \xff":               "bad \ufffd",
	} {
		if got := Printable(text); got != want {
			t.Errorf("%q is shown as %q, want %q", text, got, want)
		}
	}
	if got, want := Quote("می\u200cخواهم"), "\"می\u200cخواهم\""; got != want {
		t.Errorf("quoted %q, want %q", got, want)
	}
}

func TestCleanLength(t *testing.T) {
	t.Parallel()
	a, b := 0.48, 1.2
	third := 0.0254 / 3
	for _, c := range []struct{ m, want float64 }{{a + b, 1.68}, {4.31 - 2.4, 1.91}, {third, third}, {0, 0}, {-0.14000000000000012, -0.14}, {1e12, 1e12}} {
		if got := CleanLength(c.m); got != c.want {
			t.Errorf("%v m is cleaned to %v m, want %v m", c.m, got, c.want)
		}
	}
}
