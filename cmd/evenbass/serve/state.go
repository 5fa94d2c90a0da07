package serve

import (
	"bytes"
	"encoding/json"
	"sync"
)

// What a server is doing.
const (
	working = "working"
	ready   = "ready"
	failed  = "failed"
)

// state is what a reader is told. Its JSON is an event of the stream.
type state struct {
	Doing string  `json:"doing"` // working, ready or failed
	Task  string  `json:"task,omitempty"`
	Share float64 `json:"share"`           // of the task that is done, 0 to 1
	Fault string  `json:"fault,omitempty"` // why there is no new page
	Page  int     `json:"page"`            // how many pages were made
}

// event returns the state as one event of a stream (WHATWG HTML, sec. 9.2, Server-sent events).
func (s state) event() []byte {
	text, err := json.Marshal(s)
	if err != nil {
		panic(err) // a share that is no number is a mistake of the program
	}
	return bytes.Join([][]byte{[]byte("data: "), text, []byte("\n\n")}, nil)
}

// pageState shares the state and the latest page between the worker, which writes them, and the
// readers. The zero value is ready for use.
type pageState struct {
	mutex   sync.Mutex
	state   state
	page    []byte
	changed chan struct{} // closed when the state changes; nil if nobody waits
}

// read returns the state, and a channel that is closed when it changes.
func (b *pageState) read() (state, <-chan struct{}) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	if b.changed == nil {
		b.changed = make(chan struct{})
	}
	return b.state, b.changed
}

// latest returns the page made last, nil before the first.
func (b *pageState) latest() []byte {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	return b.page
}

// change changes the state and wakes whoever waits.
func (b *pageState) change(edit func()) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	edit()
	if b.changed != nil {
		close(b.changed)
		b.changed = nil
	}
}

func (b *pageState) report(task string, share float64) {
	b.change(func() { b.state.Doing, b.state.Task, b.state.Share, b.state.Fault = working, task, share, "" })
}

func (b *pageState) publish(page []byte) {
	b.change(func() {
		b.page = page
		b.state = state{Doing: ready, Page: b.state.Page + 1}
	})
}

func (b *pageState) fail(err error) {
	b.change(func() { b.state = state{Doing: failed, Fault: err.Error(), Page: b.state.Page} })
}
