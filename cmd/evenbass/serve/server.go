package serve

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"sync"
	"syscall"
	"time"

	"evenbass/model"
)

// Server serves one page and makes it again when its source changes.
type Server struct {
	File     string // is watched; a change makes the page again
	Title    string // of the site
	Settings []Setting
	Recorder *Recorder // nil: nothing is recorded

	// Make makes the page from the file as it is now, with the settings by their names, and reports
	// how far it is. It must return soon after its context ends. It is never called twice at a time.
	Make func(ctx context.Context, settings map[string]int, progress model.Progress) ([]byte, error)

	// Note, if there is one, is told of each page made, with nil, and of each failure. It is called
	// by one goroutine at a time.
	Note func(err error)

	token string
	host  string
	page  pageState

	mutex  sync.Mutex
	values map[string]int // of the settings, by name
	again  chan struct{}  // a setting has changed

	recording sync.Mutex // held while a recording is taken
}

// Setting is a whole number that the reader may change.
type Setting struct {
	Name, Label   string
	Value, Lo, Hi int
	Width         int // of its field, in characters
}

// tokenBytes makes a token that nobody guesses: 192 random bits.
const tokenBytes = 24

// Listen opens a port of the loopback, any free one for 0, and returns the address to read the page
// at.
func (s *Server) Listen(port int) (net.Listener, string, error) {
	l, err := net.Listen("tcp4", fmt.Sprintf("127.0.0.1:%d", port))
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, "", fmt.Errorf("port %d is in use by another program; give another one, or 0 for any free one", port)
	}
	if err != nil {
		var cause *os.SyscallError
		if errors.As(err, &cause) {
			err = cause.Err // without the call and the address
		}
		return nil, "", fmt.Errorf("cannot serve on port %d: %w", port, err)
	}
	secret := make([]byte, tokenBytes)
	rand.Read(secret) // never fails (crypto/rand)
	s.token, s.host = base64.RawURLEncoding.EncodeToString(secret), l.Addr().String()
	s.again, s.values = make(chan struct{}, 1), map[string]int{}
	for _, set := range s.Settings {
		s.values[set.Name] = set.Value
	}
	return l, "http://" + s.host + "/" + s.token + "/", nil
}

// closeTimeout is how long open connections may last after the server's context ends.
const closeTimeout = 2 * time.Second

// Run serves until the context ends, which is no error, and returns when all has stopped.
func (s *Server) Run(ctx context.Context, l net.Listener) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	site := &http.Server{
		Handler: s.guarded(s.site()), BaseContext: func(net.Listener) context.Context { return ctx },
		ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10,
	}
	var work sync.WaitGroup
	work.Go(func() { s.work(ctx) })
	served := make(chan error, 1)
	go func() { served <- site.Serve(l) }()
	var err error
	select {
	case err = <-served:
	case <-ctx.Done():
		closing, done := context.WithTimeout(context.WithoutCancel(ctx), closeTimeout)
		defer done()
		if site.Shutdown(closing) != nil {
			site.Close()
		}
		err = <-served
	}
	stop()
	work.Wait()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return fmt.Errorf("serving: %w", err)
}

// chosen returns a copy of the settings.
func (s *Server) chosen() map[string]int {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	out := map[string]int{}
	for name, v := range s.values {
		out[name] = v
	}
	return out
}

// choose changes settings, all of them or none, and asks for a new page.
func (s *Server) choose(wanted map[string]int) error {
	for name, v := range wanted {
		set := s.setting(name)
		switch {
		case set == nil:
			return fmt.Errorf("there is no setting %q", name)
		case v < set.Lo || v > set.Hi:
			return fmt.Errorf("%s must be %d to %d, have %d", set.Label, set.Lo, set.Hi, v)
		}
	}
	s.mutex.Lock()
	for name, v := range wanted {
		s.values[name] = v
	}
	s.mutex.Unlock()
	select {
	case s.again <- struct{}{}:
	default: // a page is asked for already
	}
	return nil
}

func (s *Server) setting(name string) *Setting {
	for i := range s.Settings {
		if s.Settings[i].Name == name {
			return &s.Settings[i]
		}
	}
	return nil
}
