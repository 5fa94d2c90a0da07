package reporttest

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
)

// Missing ends a test that lacks a tool: it fails in continuous integration, where tests
// must be complete, and is skipped elsewhere.
func Missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// Tab is one tab of a headless Chromium without network but for this machine, and what its page
// complained about.
type Tab struct {
	ctx context.Context

	mu       sync.Mutex
	messages []string // console, exceptions, policy violations
	requests []string // every address asked for
}

// patience is how long one action of a browser may take. A page that hangs fails its test after that time. What
// the test computes between actions does not count, nor does the number of actions.
const patience = 2 * time.Minute

// NewBrowser starts a browser, with further options if there are any, and returns the context of its
// first tab.
func NewBrowser(t *testing.T, further ...chromedp.ExecAllocatorOption) context.Context {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		Missing(t, "no Chromium is installed: the page is not tested in a browser")
	}
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("proxy-server", "127.0.0.1:9"), chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-quic", true),
	)
	ctx, kill := chromedp.NewExecAllocator(context.Background(), append(opts, further...)...)
	t.Cleanup(kill)
	ctx, cancel := chromedp.NewContext(ctx)
	t.Cleanup(func() {
		defer time.AfterFunc(patience, kill).Stop()
		if err := chromedp.Cancel(ctx); err != nil {
			t.Log(err)
		}
		cancel()
	})
	begin(t, ctx, cancel)
	return ctx
}

// begin opens the tab of a context. The first action must not have a context that ends before the tab's, so
// a timer ends the tab itself.
func begin(t *testing.T, ctx context.Context, cancel func()) {
	t.Helper()
	late := time.AfterFunc(patience, cancel)
	defer late.Stop()
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
}

// NewTab opens a tab that is closed when the test ends.
func NewTab(t *testing.T, browser context.Context) *Tab {
	t.Helper()
	b := &Tab{}
	ctx, cancel := chromedp.NewContext(browser, chromedp.WithListener(b.listen))
	t.Cleanup(cancel)
	b.ctx = ctx
	begin(t, ctx, cancel)
	b.Run(t, Command(network.Enable, network.EnableParams{}), Command(log.Enable, cdp.Empty{}), Command(runtime.Enable, cdp.Empty{}))
	return b
}

func (b *Tab) listen(event any) {
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

// Run runs actions in the tab; one that fails or hangs ends the test.
func (b *Tab) Run(t *testing.T, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	for _, a := range actions {
		Answer(t, b, a)
	}
}

// Answer returns what an action in the tab gives. One that fails or hangs ends the test.
func Answer[T any](t *testing.T, b *Tab, a chromedp.Action[T]) T {
	t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, a)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Command is a command of the protocol whose answer does not matter.
func Command[P, R any](c cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, c, params)
		return err
	})
}

// Colours makes the browser ask for light or dark pages.
func Colours(scheme string) chromedp.Action[chromedp.Void] {
	return Command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
}

// ForcedColours makes the browser draw pages in the few colours of a system for weak eyes.
func ForcedColours() chromedp.Action[chromedp.Void] {
	return Command(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}},
	})
}

// Value returns what an expression gives in the page. It waits for a promise.
func Value[T any](t *testing.T, b *Tab, expression string) T {
	t.Helper()
	return Answer(t, b, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// Quiet fails if the page said anything or asked for anything but itself.
func (b *Tab) Quiet(t *testing.T) {
	t.Helper()
	b.QuietAt(t, "file:")
}

// QuietAt fails if the page said anything or asked for anything but what is below an address.
func (b *Tab) QuietAt(t *testing.T, address string) {
	t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, m := range b.messages {
		t.Error(m)
	}
	for _, r := range b.requests {
		if !strings.HasPrefix(r, address) && !strings.HasPrefix(r, "about:") && !strings.HasPrefix(r, "data:") {
			t.Errorf("the page asked for %s", r)
		}
	}
	if len(b.requests) == 0 {
		t.Error("no request was seen, so nothing was watched")
	}
}

// File writes a page and returns its file address. A page that fails withoutLibrary is missing
// its charting library.
func File(t *testing.T, page func(io.Writer) error, withoutLibrary error) string {
	t.Helper()
	var b bytes.Buffer
	switch err := page(&b); {
	case errors.Is(err, withoutLibrary):
		Missing(t, err.Error())
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

// Expressions for [Value].
const (
	ChartsDrawn = `document.body.dataset.charts`
	PaperColour = `getComputedStyle(document.body).backgroundColor`
)

// TurnTuner is an expression that moves the slider of a map to frequency i, notifies the
// page, and returns the map's caption.
func TurnTuner(i int) string {
	return fmt.Sprintf(`(() => { const s = document.querySelector(".tuner input[type=range]"); s.value = "%d";
		s.dispatchEvent(new Event("input")); return document.querySelector("#floor-tone-1 figcaption").textContent; })()`, i)
}
