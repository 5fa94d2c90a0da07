package report

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"evenbass/model"
)

// missing ends a test for want of a tool: a failure where the tests must be whole,
// in continuous integration, and skipped on a desk.
func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// tab is one tab of a headless Chromium without network, and what its page
// complained about.
type tab struct {
	ctx context.Context

	mu       sync.Mutex
	messages []string // console, exceptions, policy violations
	requests []string // every address asked for
}

// newBrowser starts a browser and returns the context of its first tab.
func newBrowser(t *testing.T) context.Context {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		missing(t, "no Chromium is installed: the page is not tested in a browser")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("proxy-server", "127.0.0.1:9"), chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND"),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-quic", true),
	)
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewExecAllocator(ctx, opts...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(func() {
		if err := chromedp.Cancel(ctx); err != nil {
			t.Log(err)
		}
		cancel()
	})
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return ctx
}

// newTab opens a tab that is closed when the test ends.
func newTab(t *testing.T, browser context.Context) *tab {
	t.Helper()
	b := &tab{}
	ctx, cancel := chromedp.NewContext(browser, chromedp.WithListener(b.listen))
	t.Cleanup(cancel)
	b.ctx = ctx
	b.run(t, command(network.Enable, network.EnableParams{}), command(log.Enable, cdp.Empty{}), command(runtime.Enable, cdp.Empty{}))
	return b
}

func (b *tab) listen(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		b.messages = append(b.messages, fmt.Sprintf("console: %s", e.Type))
	case *runtime.EventExceptionThrown:
		b.messages = append(b.messages, "exception: "+e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		b.messages = append(b.messages, "log: "+e.Entry.Text)
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	case *page.EventJavascriptDialogOpening:
		b.messages = append(b.messages, "dialog: "+e.Message)
	}
}

func (b *tab) run(t *testing.T, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		t.Fatal(err)
	}
}

// command is a command of the protocol whose answer does not matter.
func command[P, R any](c cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, c, params)
		return err
	})
}

// colours makes the browser ask for light or dark pages.
func colours(scheme string) chromedp.Action[chromedp.Void] {
	return command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
}

// value returns what an expression gives in the page.
func value[T any](t *testing.T, b *tab, expression string) T {
	t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// quiet fails if the page said anything or asked for anything but itself.
func (b *tab) quiet(t *testing.T) {
	t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, m := range b.messages {
		t.Error(m)
	}
	for _, r := range b.requests {
		if !strings.HasPrefix(r, "file:") && !strings.HasPrefix(r, "about:") && !strings.HasPrefix(r, "data:") {
			t.Errorf("the page asked for %s", r)
		}
	}
	if len(b.requests) == 0 {
		t.Error("no request was seen, so nothing was watched")
	}
}

// fileOf writes a page and returns its file address.
func fileOf(t *testing.T, page func(io.Writer) error) string {
	t.Helper()
	var b bytes.Buffer
	switch err := page(&b); {
	case errors.Is(err, ErrNoLibrary):
		missing(t, err.Error())
	case err != nil:
		t.Fatal(err)
	}
	t.Logf("the page has %d bytes", b.Len())
	path := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: path}).String()
}

func pageFile(t *testing.T, in Input) string {
	t.Helper()
	return fileOf(t, func(w io.Writer) error { return Page(w, in) })
}

const (
	chartsDrawn = `document.body.dataset.charts`
	paperColour = `getComputedStyle(document.body).backgroundColor`
)

// curves counts the drawn curves of one chart by their colour.
func curves(colourRole string) string {
	return `(() => {
		const c = document.createElement("canvas").getContext("2d");
		c.fillStyle = getComputedStyle(document.documentElement).getPropertyValue("` + colourRole + `").trim();
		return document.querySelectorAll('#response_both svg path[stroke="' + c.fillStyle + '"][fill="none"]').length;
	})()`
}

// The page in a real browser: drawn, quiet, harmless, fit for a phone and for
// paper.
func TestBrowser(t *testing.T) {
	browser := newBrowser(t)
	address := pageFile(t, fixtureInput(model.DefaultGrid()))
	for _, scheme := range []string{"light", "dark"} {
		t.Run(scheme, func(t *testing.T) { testDrawn(t, newTab(t, browser), address, scheme) })
	}
	t.Run("choice", func(t *testing.T) { testChoice(t, newTab(t, browser), address) })
	t.Run("hostile", func(t *testing.T) { testHostile(t, newTab(t, browser)) })
	t.Run("phone", func(t *testing.T) { testPhone(t, newTab(t, browser), address) })
	t.Run("print", func(t *testing.T) { testPrint(t, newTab(t, browser), address) })
}

// Every chart is drawn, now and layout 1 with one curve each, in the colours asked
// for.
func testDrawn(t *testing.T, b *tab, address, scheme string) {
	b.run(t, colours(scheme), chromedp.Navigate(address))
	if got := value[string](t, b, chartsDrawn); got != "4" {
		t.Errorf("%s of 4 charts are drawn", got)
	}
	if got := value[string](t, b, `document.title`); got != "Spare room: places for loudspeakers and listener" {
		t.Errorf("title is %q", got)
	}
	paper := value[string](t, b, paperColour)
	if dark := paper == "rgb(21, 25, 28)"; dark != (scheme == "dark") {
		t.Errorf("the paper is %s", paper)
	}
	if now, first := value[int](t, b, curves("--now")), value[int](t, b, curves("--layout-1")); now != 1 || first != 1 {
		t.Errorf("%d curves of now and %d of layout 1", now, first)
	}
	b.quiet(t)
}

// Choosing a layout shows its curve in place of the first one's.
func testChoice(t *testing.T, b *tab, address string) {
	b.run(t, chromedp.Navigate(address), chromedp.Click(chromedp.CSS(`input[value="layout 3"]`)))
	first, third := value[int](t, b, curves("--layout-1")), value[int](t, b, curves("--layout-3"))
	if first != 0 || third != 1 {
		t.Errorf("%d curves of layout 1 and %d of layout 3", first, third)
	}
	b.quiet(t)
}

// A room whose name is a script is shown by its name, and no script but the
// page's own runs.
func testHostile(t *testing.T, b *tab) {
	b.run(t, chromedp.Navigate(pageFile(t, hostileInput())))
	if got := value[string](t, b, `document.querySelector("h1").textContent`); !strings.HasPrefix(got, "</script><script>alert(1)</script>") {
		t.Errorf("the room is called %q", got)
	}
	if got := value[int](t, b, `document.querySelectorAll("img, script:not([type])").length`); got != 2 {
		t.Errorf("%d scripts and pictures, want the page's two scripts", got)
	}
	if got := value[string](t, b, chartsDrawn); got != "4" {
		t.Errorf("%s of 4 charts are drawn", got)
	}
	b.quiet(t)
}

// On a phone nothing but wide tables reaches beyond the screen, and those scroll
// by themselves.
func testPhone(t *testing.T, b *tab, address string) {
	b.run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile), chromedp.Navigate(address))
	if got := value[int](t, b, `document.documentElement.scrollWidth`); got > 390 {
		t.Errorf("the page is %d wide on a screen of 390", got)
	}
	if got := value[float64](t, b, `document.querySelector("#response_both svg").getBoundingClientRect().right`); got > 390 {
		t.Errorf("the chart reaches to %v", got)
	}
	b.quiet(t)
}

// scaled counts the charts that a sheet can shrink as a whole, and names how wide they are drawn.
const scaled = `(() => {
	const boxes = [...document.querySelectorAll(".chart svg")].map(s => s.viewBox.baseVal ? s.viewBox.baseVal.width : 0);
	return boxes.filter(w => w > 0 && w <= 680).length + " of " + boxes.length
})()`

// The page prints on both papers, from a dark screen too, in few sheets, and is
// dark again afterwards.
func testPrint(t *testing.T, b *tab, address string) {
	b.run(t, colours("dark"), chromedp.EmulateViewport(1120, 900), chromedp.Navigate(address))
	value[bool](t, b, `window.dispatchEvent(new Event("beforeprint"))`)
	if got := value[string](t, b, scaled); got != "4 of 4" {
		t.Errorf("on paper %s charts are shown whole", got)
	}
	value[bool](t, b, `window.dispatchEvent(new Event("afterprint"))`)
	if got := value[string](t, b, scaled); got != "0 of 4" {
		t.Errorf("after printing %s charts still have the size of paper", got)
	}
	for paper, size := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPrintBackground()))
		if err != nil {
			t.Fatal(err)
		}
		sheets := bytes.Count(pdf, []byte("/Type /Page\n"))
		if !bytes.HasPrefix(pdf, []byte("%PDF")) || sheets < 5 || sheets > 12 {
			t.Errorf("%s: %d bytes, %d sheets", paper, len(pdf), sheets)
		}
	}
	if got := value[string](t, b, paperColour); got != "rgb(21, 25, 28)" {
		t.Errorf("after printing the paper is %s", got)
	}
	b.quiet(t)
}
