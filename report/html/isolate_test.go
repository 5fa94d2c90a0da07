package html

import "testing"

// Names of scripts that run to the left are set apart in text, and nowhere else; by hand.
func TestIsolated(t *testing.T) {
	t.Parallel()
	for page, want := range map[string]string{
		`<li>לוח צד: 4 kPa</li>`:                       "<li>\u2068לוח צד\u2069: 4 kPa</li>",
		`<text>חדר 2 ימין, 14 and غرفة</text>`:         "<text>\u2068חדר 2 ימין\u2069, 14 and \u2068غرفة\u2069</text>",
		`<svg aria-label="לוח"><title>a</title>`:       `<svg aria-label="לוח"><title>a</title>`,
		`<pre>name: "לוח"</pre><script>"לוח"</script>`: `<pre>name: "לוח"</pre><script>"לוח"</script>`,
		`<p>Zimmer Größe 4</p>`:                        `<p>Zimmer Größe 4</p>`,
	} {
		if got := string(isolated([]byte(page))); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
