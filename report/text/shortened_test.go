package text

import (
	"strings"
	"testing"

	"github.com/rivo/uniseg"
)

func TestShortened(t *testing.T) {
	for words, want := range map[string]string{"sofa bed": "sofa bed", "sofa bed by the window": "sofa bed…", "一二三四五六七": "一二三四…", "": ""} {
		if got := Shortened(words, 10); got != want {
			t.Errorf("%q is shortened to %q, want %q", words, got, want)
		}
	}
	if w := uniseg.StringWidth(Shortened(strings.Repeat("👩‍👩‍👧x", 200), 14)); w > 14 {
		t.Errorf("%d columns", w)
	}
}
