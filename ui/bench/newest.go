package bench

import "sync"

// newest holds the last of something that comes from another goroutine, until it is
// shown. When things come faster than they can be shown, the newest counts.
type newest[T any] struct {
	mu    sync.Mutex
	value *T
}

// put takes a thing; true if nothing was waiting to be shown.
func (n *newest[T]) put(v T) bool {
	n.mu.Lock()
	defer n.mu.Unlock()
	first := n.value == nil
	n.value = &v
	return first
}

// take gives the newest thing. It is called once for each put that gave true.
func (n *newest[T]) take() T {
	n.mu.Lock()
	defer n.mu.Unlock()
	v := *n.value
	n.value = nil
	return v
}
