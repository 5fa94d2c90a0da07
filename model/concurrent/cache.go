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
	size  func(K) int
	held  int        // the sizes of all values together
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
	return NewSizedCache[K, V](max(1, limit), func(K) int { return 1 })
}

// NewSizedCache returns a cache for values that together are no larger than the limit; size tells the
// size of a key's value. The value asked for last is kept even if it is larger.
func NewSizedCache[K comparable, V any](limit int, size func(K) int) *Cache[K, V] {
	return &Cache[K, V]{limit: limit, size: size, order: list.New(), byKey: map[K]*list.Element{}}
}

// Held returns the sizes of all values that are kept, together.
func (c *Cache[K, V]) Held() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.held
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
		c.drop(at)
	}
}

// drop takes an entry out.
func (c *Cache[K, V]) drop(at *list.Element) {
	key := c.order.Remove(at).(*entry[K, V]).key
	delete(c.byKey, key)
	c.held -= c.size(key)
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
	c.held += c.size(key)
	for c.held > c.limit && c.order.Len() > 1 {
		c.drop(c.order.Back())
	}
	return e
}
