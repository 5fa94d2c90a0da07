package serve

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenbass/model"
)

// room is a file whose text its page shows. The page of "slow" is never done, and that of "bad" fails.
type room struct {
	t    *testing.T
	file string
}

func newRoom(t *testing.T, text string) room {
	r := room{t, filepath.Join(t.TempDir(), "room.yaml")}
	r.save(text)
	return r
}

// save replaces the file as editors do.
func (r room) save(text string) {
	r.t.Helper()
	part := r.file + "~"
	if err := errors.Join(os.WriteFile(part, []byte(text), 0o644), os.Rename(part, r.file)); err != nil {
		r.t.Fatal(err)
	}
}

func (r room) page(ctx context.Context, settings map[string]int, progress model.Progress) ([]byte, error) {
	text, err := os.ReadFile(r.file)
	if err != nil {
		return nil, err
	}
	switch string(text) {
	case "slow":
		progress.Report("searching", 0.25)
		<-ctx.Done()
		return nil, ctx.Err()
	case "bad":
		return nil, errors.New("room.yaml:3:7: a wall of cheese")
	case "panic":
		panic("a mistake")
	}
	return fmt.Appendf(nil, pageText, text, settings["layouts"]), nil
}

const pageText = `<!DOCTYPE html><html lang="en"><title>x</title><h1 style="margin-bottom: 3000px">%s, %d layouts</h1>` +
	`<details class="fold"><summary><h2 id="more">More</h2></summary>text</details></html>`

// start runs a server until the test ends, and holds it to ending cleanly.
func start(t *testing.T, r room) (*Server, string) {
	t.Helper()
	return startServer(t, &Server{File: r.file, Title: "a room", Settings: []Setting{{Name: "layouts", Label: "Layouts", Value: 4, Lo: 1, Hi: 5}}, Make: r.page})
}

func startServer(t *testing.T, s *Server) (*Server, string) {
	t.Helper()
	l, address, err := s.Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Run(ctx, l) }()
	t.Cleanup(func() {
		stop()
		select {
		case err := <-ended:
			if err != nil {
				t.Errorf("it ends with %v", err)
			}
		case <-time.After(10 * time.Second):
			t.Error("it does not end")
		}
		if _, err := http.Get(address); err == nil {
			t.Error("it answers after its end")
		}
	})
	return s, address
}

// events returns the next state of a stream for which a condition holds.
func events(t *testing.T, address string) func(what string, holds func(state) bool) state {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	t.Cleanup(cancel)
	req, _ := http.NewRequestWithContext(ctx, "GET", address+"events", nil)
	answer, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { answer.Body.Close() })
	if got := answer.Header.Get("Content-Type"); got != "text/event-stream" {
		t.Errorf("the stream is %s", got)
	}
	lines := bufio.NewScanner(answer.Body)
	return func(what string, holds func(state) bool) state {
		t.Helper()
		for lines.Scan() {
			text, ok := strings.CutPrefix(lines.Text(), "data: ")
			if !ok {
				continue
			}
			var s state
			if err := json.Unmarshal([]byte(text), &s); err != nil {
				t.Fatal(err)
			}
			if holds(s) {
				return s
			}
		}
		t.Fatalf("the stream ended before %s: %v", what, lines.Err())
		return state{}
	}
}

func isReady(s state) bool { return s.Doing == ready }

func get(t *testing.T, address string) (int, string) {
	t.Helper()
	answer, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, _ := io.ReadAll(answer.Body)
	return answer.StatusCode, string(text)
}

// A change of the file or of a setting makes the page again; a faulty file leaves the last page
// there and says what is wrong; a change ends the work on an outdated page.
func TestPageFollowsItsFile(t *testing.T) {
	t.Parallel()
	r := newRoom(t, "one")
	_, address := start(t, r)
	next := events(t, address)
	next("the first page", isReady)
	if code, text := get(t, address+"page"); code != 200 || text != fmt.Sprintf(pageText, "one", 4) {
		t.Errorf("the page is %d %q", code, text)
	}
	r.save("slow")
	if s := next("a search", func(s state) bool { return s.Task == "searching" }); s.Share != 0.25 || s.Page != 1 {
		t.Errorf("the search is told as %+v", s)
	}
	r.save("bad")
	if s := next("the fault", func(s state) bool { return s.Doing == failed }); s.Fault != "room.yaml:3:7: a wall of cheese" || s.Page != 1 {
		t.Errorf("the fault is told as %+v", s)
	}
	if _, text := get(t, address+"page"); !strings.Contains(text, "one, 4 layouts") {
		t.Errorf("beside a faulty file the page is %q", text)
	}
	r.save("panic")
	next("the panic", func(s state) bool { return s.Doing == failed && strings.Contains(s.Fault, "a mistake") })
	r.save("two")
	if s := next("the second page", isReady); s.Page != 2 {
		t.Errorf("the second page is %+v", s)
	}
	if code := post(t, address, http.Header{}, `{"layouts": 2}`); code != http.StatusNoContent {
		t.Errorf("a setting is answered with %d", code)
	}
	next("the third page", func(s state) bool { return s.Doing == ready && s.Page == 3 })
	if _, text := get(t, address+"page"); !strings.Contains(text, "two, 2 layouts") {
		t.Errorf("with 2 layouts the page is %q", text)
	}
	if _, text := get(t, address); !strings.Contains(text, `name="layouts" value="2"`) {
		t.Error("the form does not show the setting")
	}
}

// post sends settings as the site's own page does, but for the headers given. An empty one is left out.
func post(t *testing.T, address string, head http.Header, body string) int {
	t.Helper()
	code, _ := postTo(t, address, "settings", head, body)
	return code
}

func postTo(t *testing.T, address, path string, head http.Header, body string) (int, string) {
	t.Helper()
	req, err := http.NewRequest("POST", address+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	req.Header = http.Header{"Origin": {"http://" + req.Host}, "Content-Type": {"application/json"}}
	for name, v := range head {
		if req.Header[name] = v; v[0] == "" {
			req.Header.Del(name)
		}
	}
	answer, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, _ := io.ReadAll(answer.Body)
	return answer.StatusCode, string(text)
}

// Only its own pages on its own address are answered, and nothing but the site is there: no other
// path, no other file, no other way to ask.
func TestOthersAreRefused(t *testing.T) {
	t.Parallel()
	r := newRoom(t, "one")
	_, address := start(t, r)
	events(t, address)("the page", isReady)
	root := address[:strings.LastIndex(strings.TrimSuffix(address, "/"), "/")+1]
	for _, c := range []struct {
		name, method, url, host string
		head                    http.Header
		want                    int
	}{
		{name: "the site", url: address, want: 200},
		{name: "typed into a browser", url: address, head: http.Header{"Sec-Fetch-Site": {"none"}}, want: 200},
		{name: "from its own page", url: address + "page", head: http.Header{"Sec-Fetch-Site": {"same-origin"}}, want: 200},
		{name: "no token", url: root, want: 403},
		{name: "a token too short", url: address[:len(address)-2] + "/", want: 403},
		{name: "another host's name", url: address, host: "rebound.example", want: 403},
		{name: "localhost", url: address, host: "localhost:80", want: 403},
		{name: "another origin", url: address, head: http.Header{"Origin": {"http://elsewhere.example"}}, want: 403},
		{name: "no origin at all", url: address, head: http.Header{"Origin": {"null"}}, want: 403},
		{name: "from another site", url: address + "events", head: http.Header{"Sec-Fetch-Site": {"cross-site"}}, want: 403},
		{name: "another path", url: address + "room.yaml", want: 404},
		{name: "a path upwards", url: address + "..%2f..%2fetc/passwd", want: 404},
		{name: "built-in files", url: address + "page/shell.js", want: 404},
		{name: "writing the page", method: "PUT", url: address + "page", want: 405},
		{name: "reading the settings", url: address + "settings", want: 405},
	} {
		req, err := http.NewRequest(c.method, c.url, nil)
		if err != nil {
			t.Fatal(err)
		}
		if req.Header = c.head.Clone(); c.head == nil {
			req.Header = http.Header{}
		}
		if c.host != "" {
			req.Host = c.host
		}
		answer, err := http.DefaultTransport.RoundTrip(req)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		if answer.StatusCode != c.want {
			t.Errorf("%s: %d, want %d", c.name, answer.StatusCode, c.want)
		}
		if answer.Header.Get("Cache-Control") != "no-store" || answer.Header.Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%s: headers %v", c.name, answer.Header)
		}
	}
	for _, c := range []struct {
		name, body string
		head       http.Header
		want       int
	}{
		{"another origin", `{"layouts": 2}`, http.Header{"Origin": {"http://elsewhere.example"}}, 403},
		{"without origin", `{"layouts": 2}`, http.Header{"Origin": {""}}, 403},
		{"a form's kind", `{"layouts": 2}`, http.Header{"Content-Type": {"text/plain"}}, 415},
		{"too many layouts", `{"layouts": 6}`, nil, 400},
		{"unknown", `{"seed": 1}`, nil, 400},
		{"no number", `{"layouts": "2"}`, nil, 400},
		{"too long", `{"` + strings.Repeat("x", 5000) + `": 1}`, nil, 400},
	} {
		if got := post(t, address, c.head, c.body); got != c.want {
			t.Errorf("settings %s: %d, want %d", c.name, got, c.want)
		}
	}
}

// Two servers never share a token, and a port in use is an error.
func TestListen(t *testing.T) {
	t.Parallel()
	var a, b Server
	first, one, err := a.Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	second, two, err := b.Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	if !strings.HasPrefix(one, "http://127.0.0.1:") || len(a.token) != 32 || a.token == b.token || one == two {
		t.Errorf("the addresses are %s and %s", one, two)
	}
	var port int
	fmt.Sscanf(a.host, "127.0.0.1:%d", &port)
	if _, _, err := b.Listen(port); err == nil || err.Error() != fmt.Sprintf("port %d is in use by another program; give another one, or 0 for any free one", port) {
		t.Errorf("a taken port gives %v", err)
	}
}

// A recording is taken from the site's own page alone, of a size that its signal explains, and what cannot be
// analysed is answered with the reason.
func TestRecording(t *testing.T) {
	t.Parallel()
	r := newRoom(t, "one")
	s := &Server{File: r.file, Make: r.page}
	s.Recorder = &Recorder{
		Signal: []byte("RIFF"), Duration: time.Second, Gain: 0.25, Check: []string{"left"},
		Form: func() (Form, error) {
			return Form{Seats: []string{"<b>chair</b>"}, Treatments: []Treatment{{Name: "cloud", Stands: true}}}, nil
		},
		Keep: func(_ context.Context, recording []byte, taken Taken) (string, error) {
			switch string(recording) {
			case "bad":
				return "", errors.New("the sweep was not found")
			case "panic":
				panic("a mistake")
			}
			return fmt.Sprintf("%s at %s with %v", recording, taken.Seat, taken.State), nil
		},
	}
	_, address := startServer(t, s)
	events(t, address)("the page", isReady)
	for _, c := range []struct {
		name, body string
		head       http.Header
		code       int
		answer     string
	}{
		{"whole", "good", nil, 200, "good at chair with [a b]"},
		{"of nothing that was played", "bad", nil, 422, "the sweep was not found"},
		{"that ends in a panic", "panic", nil, 422, "a mistake"},
		{"of another origin", "good", http.Header{"Origin": {"http://elsewhere.example"}}, 403, "wrong origin"},
		{"without origin", "good", http.Header{"Origin": {""}}, 403, "wrong origin"},
		{"of another site", "good", http.Header{"Sec-Fetch-Site": {"cross-site"}}, 403, "wrong site"},
		{"that a form sends", "good", http.Header{"Content-Type": {"text/plain"}}, 415, "audio/wav"},
		{"that is too large", strings.Repeat("x", 31*bytesPerSecond+1), nil, 413, "did not arrive whole"},
	} {
		head := http.Header{"Content-Type": {"audio/wav"}}
		for name, v := range c.head {
			head[name] = v
		}
		code, answer := postTo(t, address, "recording?seat=chair&state=a&state=b", head, c.body)
		if code != c.code || !strings.Contains(answer, c.answer) {
			t.Errorf("a recording %s: %d %q, want %d %q", c.name, code, answer, c.code, c.answer)
		}
	}
	if code, text := get(t, address+"record"); code != 200 || !strings.Contains(text, "&lt;b&gt;chair") || !strings.Contains(text, `value="cloud" checked`) {
		t.Errorf("the page that records: %d %s", code, text)
	}
	if _, text := get(t, address); !strings.Contains(text, `<a href="record">Measure</a>`) {
		t.Error("the site does not lead to the page that records")
	}
	for _, path := range []string{"sweep.wav", "capture.js"} {
		if code, _ := get(t, address+path); code != 200 {
			t.Errorf("%s: %d", path, code)
		}
	}
	_, plain := start(t, r)
	events(t, plain)("the page", isReady)
	if code, _ := get(t, plain+"record"); code != 404 {
		t.Errorf("without a recorder the page that records is answered with %d", code)
	}
}
