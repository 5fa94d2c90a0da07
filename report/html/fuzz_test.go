package html

import (
	"encoding/base64"
	"regexp"
	"strings"
	"testing"
)

// away matches what could run or fetch anything in a picture.
var away = regexp.MustCompile(`(?i)<script|<style|<image|<use|<a[ >]|\bon\w+="|href|="[^"]*(?:javascript:|url\((?:[^#]|$))`)

// Whatever the file: no panic. What is taken holds nothing that runs or fetches, and stays as it is if
// it is read again.
func FuzzLogo(f *testing.F) {
	for _, text := range []string{
		`<svg viewBox="0 0 9 9"><rect width="9" height="4" fill="url(#g)"/></svg>`, `<svg><text>A &amp; B</text></svg>`, `<svg`, "\x89PNG\r\n\x1a\n",
		`<svg onload="x"><a href="javascript:1"><rect/></a><script>2</script></svg>`, `<g><svg></svg></g>`, `<svg></svg><svg></svg>`, `<svg fill="URL( http://x)"/>`,
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		address, err := Logo(file)
		if err != nil {
			return
		}
		data, ok := strings.CutPrefix(string(address), "data:image/svg+xml;base64,")
		if !ok {
			return // the pixels of a PNG, written anew
		}
		picture, err := base64.StdEncoding.DecodeString(data)
		if err != nil {
			t.Fatal(err)
		}
		if m := away.Find(picture); m != nil {
			t.Errorf("%q stays in %q", m, picture)
		}
		if again, err := Logo(picture); err != nil || again != address {
			t.Errorf("%q reads back as %v, %v", picture, again, err)
		}
	})
}
