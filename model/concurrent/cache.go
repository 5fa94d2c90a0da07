package concurrent

import (
	"container/list"
	"sync"
)

// Cache remembers the values used last. Whoever asks for a value that is being made waits
// for it, so that none is made twice. What could not be made is tried again when next asked for.
type Cache[K comparable, V any] struct {
	mu    sync.Mutex
	limit int
	order *list.List // of *entry, the latest first
	byKey map[K]*list.Element
}

type entry[K comparable, V any] struct {
	key   K
	once  sync.Once
	value V
	err   error
}

// NewCache returns a cache for at most limit values.
func NewCache[K comparable, V any](limit int) *Cache[K, V] {
	return &Cache[K, V]{limit: max(1, limit), order: list.New(), byKey: map[K]*list.Element{}}
}

// Get returns the value of a key, and makes it if need be.
func (c *Cache[K, V]) Get(key K, make func() (V, error)) (V, error) {
	e := c.entry(key)
	e.once.Do(func() { e.value, e.err = make() })
	if e.err != nil {
		c.forget(e)
	}
	return e.value, e.err
}

// forget drops an entry, unless another has taken its place.
func (c *Cache[K, V]) forget(e *entry[K, V]) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if at, ok := c.byKey[e.key]; ok && at.Value.(*entry[K, V]) == e {
		delete(c.byKey, e.key)
		c.order.Remove(at)
	}
}

func (c *Cache[K, V]) entry(key K) *entry[K, V] {
	c.mu.Lock()
	defer c.mu.Unlock()
	if at, ok := c.byKey[key]; ok {
		c.order.MoveToFront(at)
		return at.Value.(*entry[K, V])
	}
	e := &entry[K, V]{key: key}
	c.byKey[key] = c.order.PushFront(e)
	if c.order.Len() > c.limit {
		last := c.order.Back()
		delete(c.byKey, last.Value.(*entry[K, V]).key)
		c.order.Remove(last)
	}
	return e
}
