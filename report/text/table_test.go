package text

import (
	"strings"
	"testing"

	"github.com/rivo/uniseg"
	"pgregory.net/rapid"
)

func TestTableText(t *testing.T) {
	tab := Table{
		Head: []string{"mark", "width", "note"}, Align: "lrl",
		Rows: [][]string{{"left", "1 cm\n2 in", "a"}, {"±", "100 cm", "b c"}},
	}
	want := "mark   width  note\nleft    1 cm  a\n        2 in\n±     100 cm  b c\n"
	if got := tab.Text(); got != want {
		t.Errorf("table is\n%s\nwant\n%s", got, want)
	}
}

// Characters that are two columns wide, that join or that combine keep the columns straight.
func TestTableOfWideCharacters(t *testing.T) {
	tab := Table{Head: []string{"room", "now"}, Rows: [][]string{{"客厅", "1"}, {"e\u0301tude", "20"}, {"👩\u200d🎤", "3"}}}
	want := "room   now\n客厅     1\ne\u0301tude   20\n👩\u200d🎤       3\n"
	if got := tab.Text(); got != want {
		t.Errorf("table is\n%s\nwant\n%s", got, want)
	}
}

// A word that is cut is cut between whole characters, and none is longer than the line.
func TestWrapWideCharacters(t *testing.T) {
	for text, want := range map[string]string{
		"客厅客厅": "客厅\n客厅", "👩\u200d🎤👩\u200d🎤👩\u200d🎤": "👩\u200d🎤👩\u200d🎤\n👩\u200d🎤", "cafe\u0301s": "cafe\u0301s",
	} {
		if got := Wrap(text, 5, ""); got != want {
			t.Errorf("%q became %q, want %q", text, got, want)
		}
	}
}

func TestTableFolds(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("plasterboard ", 20))
	tab := Table{Head: []string{"surface", "area", "taken as"}, Align: "lrl", Rows: [][]string{{"front wall", "8.1 m²", long}}}
	text := tab.Text()
	for _, line := range strings.Split(text, "\n") {
		if n := uniseg.StringWidth(line); n > Columns {
			t.Errorf("a line has %d characters: %q", n, line)
		}
	}
	if got := strings.Count(text, "plasterboard"); got != 20 {
		t.Errorf("%d of 20 words are left", got)
	}
	if tab.Rows[0][2] != long {
		t.Error("folding changed the table itself")
	}
}

// Wrapping loses and reorders no word, and only a word that is too long by itself
// makes a line too long.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-zé±]{4,12}|[0-9]{1,3} (cm|dB|Hz)`), 0, 40).Draw(t, "words")
		width := rapid.IntRange(20, 60).Draw(t, "width")
		text := strings.Join(words, " ")
		got := Wrap(text, width, "  ")
		if strings.Join(strings.Fields(got), " ") != strings.Join(strings.Fields(text), " ") {
			t.Fatalf("%q became %q", text, got)
		}
		for _, line := range strings.Split(got, "\n") {
			if uniseg.StringWidth(line) > width {
				t.Fatalf("line %q is longer than %d", line, width)
			}
			if first := strings.Fields(line + " x")[0]; first == "cm" || first == "dB" || first == "Hz" {
				t.Fatalf("a unit was torn off its number: %q", got)
			}
		}
	})
}

func TestWrapKeepsFeetAndInches(t *testing.T) {
	if got, want := Wrap("the head is 10 ft 0 1/2 in from the wall", 24, ""), "the head is\n10 ft 0 1/2 in from the\nwall"; got != want {
		t.Errorf("wrapped to\n%s\nwant\n%s", got, want)
	}
}

func TestWrapCutsLongWords(t *testing.T) {
	if got, want := Wrap("ab "+strings.Repeat("x", 25), 10, "  "), "ab\n  xxxxxxxx\n  xxxxxxxx\n  xxxxxxxx\n  x"; got != want {
		t.Errorf("wrapped to\n%s\nwant\n%s", got, want)
	}
}

// A room's name may hold a terminal's escape sequences; none gets through.
func TestPrintable(t *testing.T) {
	for in, want := range map[string]string{
		"Spare room": "Spare room", "\x1b[31mred": "?[31mred", "a\tb\nc": "a b c", "bell\a": "bell?", "\u202eabc": "?abc", "Büro №3": "Büro №3",
		"می\u200cخواهم": "می\u200cخواهم", "👨\u200d👩\u200d👧": "👨\u200d👩\u200d👧", "חדר\u200f (2)": "חדר\u200f (2)",
	} {
		if got := Printable(in); got != want {
			t.Errorf("%q is printed %q, want %q", in, got, want)
		}
	}
}

// On paper only a head with a word as long as a name may break it; words of ours stay whole.
func TestHeadClass(t *testing.T) {
	t.Parallel()
	table := Table{Head: []string{"stage", "audible excess decay", "seat " + strings.Repeat("x", 200), "where"}, Align: "lrrl"}
	for i, want := range []string{"words", "", "long", "words"} {
		if got := table.HeadClass(i); got != want {
			t.Errorf("%q has the classes %q, want %q", table.Head[i], got, want)
		}
	}
}

// A table in both units fits a terminal: the second unit goes below the first, and more
// than one column of words is folded.
func TestWideTable(t *testing.T) {
	t.Parallel()
	wide := Table{Head: []string{"a wall of some name", "area", "weight", "depth", "what it was taken as"}, Align: "lrrrl"}
	for range 3 {
		wide.Rows = append(wide.Rows, []string{
			"door in the back wall of the room", "14.4 m² (155 sq ft)", "69.6 kg (153.4 lb)", "300 mm (11 7/8 in)",
			"double plasterboard on studs with wool in the cavity",
		})
	}
	before := wide.Rows[0][1]
	text := wide.Text()
	for line := range strings.Lines(text) {
		if n := uniseg.StringWidth(strings.TrimRight(line, "\n")); n > Columns {
			t.Errorf("a line of %d characters: %s", n, line)
		}
	}
	for _, want := range []string{"14.4 m² (155 sq ft)", "door in the", "plasterboard"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	wide.Head = append(wide.Head, "cost of it", "left over of it")
	for i := range wide.Rows {
		wide.Rows[i] = append(wide.Rows[i], "151 to 156 EUR (8 without)", "21.10 m (69 ft 2 in)")
	}
	text = wide.Text()
	if !strings.Contains(text, "(155 sq ft)") || strings.Contains(text, "14.4 m² (155 sq ft)") || lineWidthOf(text) > Columns {
		t.Errorf("a line of %d characters in\n%s", lineWidthOf(text), text)
	}
	if wide.Rows[0][1] != before {
		t.Errorf("the table itself was changed: %q", wide.Rows[0][1])
	}
}

func lineWidthOf(text string) (n int) {
	for line := range strings.Lines(text) {
		n = max(n, uniseg.StringWidth(strings.TrimRight(line, "\n")))
	}
	return n
}
