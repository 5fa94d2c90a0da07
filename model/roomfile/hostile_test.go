package roomfile

import (
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"evenbass/model/roomfile/phrase"
)

// valid is a file to be spoilt.
const valid = `room: {name: Den, length: 4.62 m, width: 3.48 m, height: 2.44 m}
walls: {front: concrete, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
speakers: {box: {depth: 28 cm, width: 21 cm, height: 34 cm}}
seats: [{name: chair, at: [1.8 m, 1.74 m, 1.2 m]}]
`

// faultsOf reads a text that must be refused.
func faultsOf(t *testing.T, r io.Reader) []Fault {
	t.Helper()
	p, err := Read(r, "bad")
	var e *Error
	if !errors.As(err, &e) || p != nil || len(e.Faults) == 0 {
		t.Fatalf("got project %v and error %v, want no project and an *Error", p, err)
	}
	return e.Faults
}

// Whatever the bytes, the answer is short and comes at once; ten megabytes are not
// even read.
func TestNonsenseIsRefused(t *testing.T) {
	t.Parallel()
	noise := make([]byte, 500_000)
	rng := rand.NewChaCha8([32]byte{7})
	rng.Read(noise)
	many := func(s string, n int) string { return strings.Repeat(s, n) }
	for name, c := range map[string]struct{ text, want string }{
		"nothing":          {"", "the file is empty"},
		"blank":            {" \n\r\n\n", "the file is empty"},
		"10 MB":            {many("booming ", 1_250_000), "larger than 1 MB"},
		"noise":            {string(noise), "is this a text file?"},
		"latin-1":          {strings.Replace(valid, "Den", "B\xfcro", 1), "byte 0xfc is not UTF-8 text"},
		"utf-16":           {"\xff\xfer\x00o\x00o\x00m\x00", "not UTF-8"},
		"control":          {strings.Replace(valid, "Den", "D\x1b[31mn", 1), "control character"},
		"nul":              {valid + "\x00", "control character"},
		"one word":         {many("x", 1_000_000), "the file holds one value"},
		"open brackets":    {many("[", 20_000), "nested too deep"},
		"bracket pairs":    {many("[", 9_000) + many("]", 9_000), "nested too deep"},
		"braces":           {many("{a: ", 6_000), "nested too deep"},
		"dashes":           {many("- ", 19_000) + "a", "nested too deep"},
		"question marks":   {many("? ", 9_000), "compound key"},
		"many lines":       {many("a: b\n", 100_000), "too many words"},
		"list of nothing":  {"seats: [" + many("1,", 5_000) + "]", "the list has 5000 entries"},
		"same key":         {many("room: 1\n", 6_000), "given twice"},
		"colons":           {many("a: ", 9_000), "not YAML"},
		"staircase":        {staircase(300), "unknown key"},
		"alias bomb":       {"a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\n", "begins an anchor"},
		"alias of nothing": {"room: *x\n", "begins an alias"},
		"directive":        {"%YAML 1.2\n---\n" + valid, "directive"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			faults := faultsOf(t, strings.NewReader(c.text))
			var all string
			for _, f := range faults {
				all += f.text() + "\n"
			}
			if !strings.Contains(all, c.want) {
				t.Errorf("says %q, want %q", all, c.want)
			}
			if n := len((&Error{Faults: faults}).Error()); n > 20_000 {
				t.Errorf("the message has %d bytes", n)
			}
		})
	}
}

// staircase nests mappings, each a space deeper.
func staircase(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String() + strings.Repeat(" ", n) + "b: 1\n"
}

// The way a text was saved does not matter: byte order mark, line ends, a leading
// document mark, comments.
func TestWaysToSave(t *testing.T) {
	t.Parallel()
	want, err := Read(strings.NewReader(valid), "valid")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"byte order mark": "\ufeff" + valid,
		"CRLF":            strings.ReplaceAll(valid, "\n", "\r\n"),
		"no last newline": strings.TrimSpace(valid),
		"document mark":   "# my room\n---\n" + valid,
		"trailing spaces": strings.ReplaceAll(valid, "\n", "   \n"),
		"comments":        strings.ReplaceAll(valid, "\n", " # so\n"),
	} {
		if got, err := Read(strings.NewReader(text), name); err != nil || !same(got, want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Columns count characters, not bytes, so that the caret stands right.
func TestColumnsCountCharacters(t *testing.T) {
	t.Parallel()
	text := strings.Replace(valid, "name: Den, length: 4.62 m", `name: "Büro µ²", length: 4.62`, 1)
	f := faultsOf(t, strings.NewReader(text))[0]
	if f.Line != 1 || f.Column != 33 || string([]rune(f.Excerpt)[f.Caret-1:][:4]) != "4.62" {
		t.Errorf("fault at %d:%d, caret at %d of %q", f.Line, f.Column, f.Caret, f.Excerpt)
	}
}

func TestLongLinesAreCut(t *testing.T) {
	t.Parallel()
	text := strings.Replace(valid, "Den, length: 4.62 m", strings.Repeat("long ", 30)+", length: 4.62", 1)
	f := faultsOf(t, strings.NewReader(text))[0]
	if r := []rune(f.Excerpt); len(r) != 90 || string(r[f.Caret-1:][:4]) != "4.62" {
		t.Errorf("caret at %d of %q", f.Caret, f.Excerpt)
	}
}

// A name is text, whatever it looks like.
func TestHostileNames(t *testing.T) {
	t.Parallel()
	for _, name := range []string{`</script><script>alert(1)</script>`, `'; drop table rooms`, `{{.}}`, `%s%n`, `../../etc`} {
		p, err := Read(strings.NewReader(strings.Replace(valid, "Den", `"`+name+`"`, 1)), "hostile")
		if err != nil || p.Room.Name != name {
			t.Errorf("%q: %v", name, err)
		}
	}
	long := strings.Replace(valid, "Den", strings.Repeat("é", phrase.MaxName+1), 1)
	if f := faultsOf(t, strings.NewReader(long))[0]; f.Path != "room.name" {
		t.Errorf("a name of %d characters: %+v", phrase.MaxName+1, f)
	}
}

func TestReadFileThatIsNone(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if _, _, err := ReadFile(filepath.Join(folder, "none.yaml")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
	if _, _, err := ReadFile(folder); err == nil || !strings.Contains(err.Error(), "is a folder") {
		t.Errorf("a folder: %v", err)
	}
	path := filepath.Join(folder, "room.yaml")
	if err := os.WriteFile(path, []byte(strings.Replace(valid, "Den", "Den, hight: 1 m", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := ReadFile(path); err == nil || !strings.HasPrefix(err.Error(), path+":1:19: room: unknown key \"hight\"; did you mean \"height\"?") {
		t.Errorf("a file with a fault: %v", err)
	}
}

func TestFailingReader(t *testing.T) {
	t.Parallel()
	broken := errors.New("the disk is gone")
	r := io.MultiReader(strings.NewReader(valid), iotest.ErrReader(broken))
	if _, err := Read(r, "room.yaml"); !errors.Is(err, broken) {
		t.Errorf("got %v, want it to wrap %v", err, broken)
	}
}
