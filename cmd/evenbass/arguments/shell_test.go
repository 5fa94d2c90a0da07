package arguments

import "testing"

// The command line can be given again: it is quoted for a shell.
func TestQuoted(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"wool 1 m": "'wool 1 m'", "a'b": `'a'\''b'`, "$(x) `y`": "'$(x) `y`'",
	} {
		if got := Quoted(text); got != want {
			t.Errorf("%q is quoted %s, want %s", text, got, want)
		}
	}
}
