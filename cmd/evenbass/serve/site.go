package serve

import (
	"bytes"
	"crypto/sha256"
	"crypto/subtle"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"mime"
	"net/http"
	"strings"
	"time"
)

//go:embed page
var pageFiles embed.FS

// guarded refuses requests that are not the reader's, and sets the headers of every answer.
func (s *Server) guarded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Cache-Control", "no-store")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("X-Content-Type-Options", "nosniff")
		if why := s.refusal(r); why != "" {
			http.Error(w, why, http.StatusForbidden)
			return
		}
		rest, ok := strings.CutPrefix(r.URL.Path, "/"+s.token)
		if !ok || !strings.HasPrefix(rest, "/") {
			http.NotFound(w, r)
			return
		}
		http.StripPrefix("/"+s.token, next).ServeHTTP(w, r)
	})
}

// refusal says why a request is not answered, or "". A name that leads to the loopback, as another
// site's may, is no address of ours; and a browser says which site a request comes from.
func (s *Server) refusal(r *http.Request) string {
	first, _, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	origin, from := r.Header.Get("Origin"), r.Header.Get("Sec-Fetch-Site")
	switch {
	case r.Host != s.host:
		return "wrong host: open the address that the program printed"
	case origin != "" && origin != "http://"+s.host, r.Method == http.MethodPost && origin == "":
		return "wrong origin: evenbass answers only its own pages"
	case from != "" && from != "same-origin" && from != "none":
		return "wrong site: evenbass answers only its own pages"
	case subtle.ConstantTimeCompare([]byte(first), []byte(s.token)) != 1:
		return "wrong token: open the address that the program printed"
	}
	return ""
}

// site answers requests, whose paths come without the token.
func (s *Server) site() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.answerShell)
	mux.HandleFunc("GET /page", s.answerPage)
	mux.HandleFunc("GET /events", s.answerEvents)
	mux.HandleFunc("POST /settings", s.answerSettings)
	s.record(mux)
	return mux
}

// shell is the page that frames the one being served.
type shell struct {
	Title    string
	File     string
	Settings []Setting
	Made     bool
	Records  bool
	Style    template.CSS
	Script   template.JS
}

func (s *Server) answerShell(w http.ResponseWriter, _ *http.Request) {
	v := shell{Title: s.Title, File: s.File, Settings: append([]Setting(nil), s.Settings...), Made: s.page.latest() != nil, Records: s.Recorder != nil}
	for i, values := 0, s.chosen(); i < len(v.Settings); i++ {
		v.Settings[i].Value = values[v.Settings[i].Name]
	}
	style, script := builtIn("shell.css"), builtIn("shell.js")
	v.Style, v.Script = template.CSS(style), template.JS(script)
	s.write(w, "shell", v, fmt.Sprintf("script-src %s; style-src %s; connect-src 'self'; frame-src 'self'", sum(script), sum(style)))
}

// write answers with a template and what its page may load; see [builtIn] for the files.
func (s *Server) write(w http.ResponseWriter, name string, view any, policy string) {
	t := template.Must(template.ParseFS(pageFiles, "page/*.gohtml"))
	var b bytes.Buffer
	if err := t.ExecuteTemplate(&b, name, view); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Security-Policy", "default-src 'none'; "+policy+"; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Write(b.Bytes())
}

func builtIn(name string) string {
	text, err := pageFiles.ReadFile("page/" + name)
	if err != nil {
		panic(err) // it is built in
	}
	return string(text)
}

// sum names a script or style in a policy.
func sum(text string) string {
	s := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(s[:]) + "'"
}

// answerPage gives the page as it would be written to a file. Only the shell may frame it.
func (s *Server) answerPage(w http.ResponseWriter, _ *http.Request) {
	page := s.page.latest()
	if page == nil {
		w.Header().Set("Retry-After", "5")
		http.Error(w, "the first page is not ready yet", http.StatusServiceUnavailable)
		return
	}
	w.Header().Set("Content-Security-Policy", "frame-ancestors 'self'")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Write(page)
}

// pace is the least time between two events, so that a quick task does not flood the reader.
const pace = 100 * time.Millisecond

// answerEvents tells what the program does until the reader leaves or the server ends.
func (s *Server) answerEvents(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	if out.SetReadDeadline(time.Time{}) != nil {
		http.Error(w, "this connection cannot stay open", http.StatusNotImplemented)
		return
	}
	for {
		now, changed := s.page.read()
		if _, err := w.Write(now.event()); err != nil || out.Flush() != nil {
			return
		}
		for _, wait := range []<-chan struct{}{changed, after(pace)} {
			select {
			case <-wait:
			case <-r.Context().Done():
				return
			}
		}
	}
}

// after returns a channel that is closed once the duration has passed.
func after(d time.Duration) <-chan struct{} {
	c := make(chan struct{})
	time.AfterFunc(d, func() { close(c) })
	return c
}

// answerSettings takes settings as a JSON object of whole numbers.
func (s *Server) answerSettings(w http.ResponseWriter, r *http.Request) {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || kind != "application/json" {
		http.Error(w, "settings are sent as application/json", http.StatusUnsupportedMediaType)
		return
	}
	var wanted map[string]int
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, 4<<10)).Decode(&wanted); err != nil {
		http.Error(w, "settings are whole numbers", http.StatusBadRequest)
		return
	}
	if err := s.choose(wanted); err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	w.WriteHeader(http.StatusNoContent)
}
