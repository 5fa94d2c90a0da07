package serve

import (
	"context"
	"os"
	"time"

	"evenbass/model/concurrent"
)

// pollInterval is the time between two looks at the file.
const pollInterval = 250 * time.Millisecond

// work makes the page, and again after each change, until the context ends. A change ends the work
// on a page that nobody wants any more.
func (s *Server) work(ctx context.Context) {
	changes := s.watch(ctx)
	for {
		job, end := context.WithCancel(ctx)
		done := make(chan struct{})
		go func() { defer close(done); s.make(job) }()
		select {
		case <-changes:
		case <-s.again:
		case <-ctx.Done():
		}
		end()
		<-done
		if ctx.Err() != nil {
			return
		}
	}
}

// make makes one page. It reports nothing of work that a change has ended.
func (s *Server) make(ctx context.Context) {
	s.page.report("reading the file", 0)
	var page []byte
	err := concurrent.Try(func() (err error) {
		page, err = s.Make(ctx, s.chosen(), s.page.report)
		return err
	})
	switch {
	case ctx.Err() != nil:
		return
	case err != nil:
		s.page.fail(err)
	default:
		s.page.publish(page)
	}
	if s.Note != nil {
		s.Note(err)
	}
}

// look is what one look at the file shows.
type look struct {
	modified time.Time
	size     int64
	there    bool
}

func glanceAt(file string) look {
	info, err := os.Stat(file)
	if err != nil {
		return look{}
	}
	return look{info.ModTime(), info.Size(), true}
}

// watch reports changes of the file. It waits until two looks agree, since a program that saves the
// file may write it in pieces or put another in its place.
func (s *Server) watch(ctx context.Context) <-chan struct{} {
	changes := make(chan struct{})
	known := glanceAt(s.File)
	go func() {
		tick := time.NewTicker(pollInterval)
		defer tick.Stop()
		last := known
		for {
			select {
			case <-tick.C:
			case <-ctx.Done():
				return
			}
			now := glanceAt(s.File)
			settled := now == last && now.there
			last = now
			if !settled || now == known {
				continue
			}
			known = now
			select {
			case changes <- struct{}{}:
			case <-ctx.Done():
				return
			}
		}
	}()
	return changes
}
