package serve

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"evenbass/report/reporttest"
)

// until waits until an expression of the page gives what is wanted.
func until(t *testing.T, b *reporttest.Tab, expression, want string) {
	t.Helper()
	var got string
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if got = reporttest.Value[string](t, b, expression); got == want {
			return
		}
	}
	t.Fatalf("%s is %q, want %q", expression, got, want)
}

const framed = `(document.getElementById("page").contentDocument?.querySelector("h1")?.textContent ?? "")`

// In a browser the page follows its file, and the reader stays where they were; a fault is told
// above the last page; the settings work; the end of the program is told.
func TestBrowser(t *testing.T) {
	browser := reporttest.NewBrowser(t)
	r := newRoom(t, "one")
	t.Run("served", func(t *testing.T) {
		_, address := start(t, r)
		b := reporttest.NewTab(t, browser)
		b.Run(t, chromedp.Navigate(address))
		until(t, b, framed, "one, 4 layouts")
		reporttest.Value[bool](t, b, `(() => { const w = document.getElementById("page").contentWindow; w.document.querySelector("details").open = true; w.scrollTo(0, 1500); return true; })()`)
		r.save("two")
		until(t, b, framed, "two, 4 layouts")
		until(t, b, `(() => { const w = document.getElementById("page").contentWindow; return w.scrollY + " " + w.document.querySelector("details").open; })()`, "1500 true")
		r.save("bad")
		until(t, b, `document.getElementById("doing").textContent.split("\n")[0]`, "room.yaml:3:7: a wall of cheese")
		until(t, b, framed, "two, 4 layouts")
		r.save("three")
		until(t, b, framed, "three, 4 layouts")
		reporttest.Value[bool](t, b, `(() => { document.querySelector("[name=layouts]").value = "2"; document.querySelector("#settings button").click(); return true; })()`)
		until(t, b, framed, "three, 2 layouts")
		t.Run("barriers", b.CheckBarriers)
		b.QuietAt(t, address)
		if got := reporttest.Value[string](t, b, `document.querySelector("h1").textContent`); !strings.HasSuffix(got, "room.yaml") {
			t.Errorf("the site is called %q", got)
		}
	})
}
