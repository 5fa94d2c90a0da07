package serve

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"html/template"
	"io"
	"mime"
	"net/http"
	"strings"
	"time"

	"evenbass/model/concurrent"
)

// Recorder takes measurements by the reader's browser, which plays a test signal and records it
// through a microphone.
type Recorder struct {
	Signal   []byte        // the test signal, a WAV file
	Duration time.Duration // of the signal
	Gain     float64       // the signal's peak re full scale, to which the level check rises
	Check    []string      // what the level check plays, in this order: left, right, both

	// Form returns what the page tells and asks the reader beforehand. It is called for each
	// reader.
	Form func() (Form, error)

	// Keep analyses a recording, a WAV file, keeps what it measured and returns what is to be said of
	// it. It is never called twice at a time.
	Keep func(ctx context.Context, recording []byte, taken Taken) (string, error)
}

// Form holds what the page tells and asks the reader before a measurement.
type Form struct {
	Steps, Cautions []string
	Seats           []string
	Treatments      []Treatment
}

// Treatment is one that may stand in the room, and whether it does by the room file.
type Treatment struct {
	Name   string
	Stands bool
}

// Taken is how a recording was taken, as the reader said.
type Taken struct {
	Seat  string
	State []string // names of the treatments that stood
}

// The largest recording that is taken: its bytes a second, of samples of 32 bits at 192 kHz, and for how
// much longer it may last than the signal.
const (
	bytesPerSecond = 4 * 192000
	spareTime      = 30 * time.Second
)

// uploadTime is how long a recording may take to arrive.
const uploadTime = time.Minute

// recordView is what the page that records shows.
type recordView struct {
	Title string
	Form
	Signal   string // sweep.wav, as a duration in words
	Duration float64
	Gain     float64
	Check    string
	Style    template.CSS
	Script   template.JS
}

// record adds the paths of a recorder to a site.
func (s *Server) record(mux *http.ServeMux) {
	if s.Recorder == nil {
		return
	}
	mux.HandleFunc("GET /record", s.answerRecord)
	mux.HandleFunc("GET /capture.js", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
		io.WriteString(w, builtIn("capture.js"))
	})
	mux.HandleFunc("GET /sweep.wav", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "audio/wav")
		w.Write(s.Recorder.Signal)
	})
	mux.HandleFunc("POST /recording", s.answerRecording)
}

// answerRecord gives the page that plays the signal and records it.
func (s *Server) answerRecord(w http.ResponseWriter, _ *http.Request) {
	r := s.Recorder
	form, err := r.Form()
	if err != nil {
		http.Error(w, err.Error(), http.StatusUnprocessableEntity)
		return
	}
	v := recordView{
		Title: s.Title, Form: form, Duration: r.Duration.Seconds(), Gain: r.Gain, Check: strings.Join(r.Check, " "),
		Signal: fmt.Sprintf("%.0f s", r.Duration.Seconds()),
	}
	v.Style, v.Script = template.CSS(builtIn("shell.css")+builtIn("record.css")), template.JS(builtIn("record.js"))
	// The recording runs in a script of its own, which a page can load by its address only.
	s.write(w, "record", v, fmt.Sprintf("script-src %s http://%s/%s/capture.js; style-src %s; connect-src 'self'", sum(string(v.Script)), s.host, s.token, sum(string(v.Style))))
}

// answerRecording takes a recording, and answers in words.
func (s *Server) answerRecording(w http.ResponseWriter, r *http.Request) {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || kind != "audio/wav" {
		http.Error(w, "a recording is sent as audio/wav", http.StatusUnsupportedMediaType)
		return
	}
	if !s.recording.TryLock() {
		http.Error(w, "another recording is being analysed", http.StatusConflict)
		return
	}
	defer s.recording.Unlock()
	conn := http.NewResponseController(w)
	conn.SetReadDeadline(time.Now().Add(uploadTime)) // where it cannot be set, the server's own holds
	most := bytesPerSecond * int64((s.Recorder.Duration+spareTime)/time.Second)
	var body bytes.Buffer
	if _, err := body.ReadFrom(http.MaxBytesReader(w, r.Body, most)); err != nil {
		code := http.StatusBadRequest
		if tooLarge := (*http.MaxBytesError)(nil); errors.As(err, &tooLarge) {
			code = http.StatusRequestEntityTooLarge
		}
		http.Error(w, "the recording did not arrive whole: "+err.Error(), code)
		return
	}
	var words string
	err = concurrent.Try(func() (err error) {
		words, err = s.Recorder.Keep(r.Context(), body.Bytes(), Taken{Seat: r.URL.Query().Get("seat"), State: r.URL.Query()["state"]})
		return err
	})
	if err != nil {
		http.Error(w, err.Error(), http.StatusUnprocessableEntity)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	io.WriteString(w, words)
}
