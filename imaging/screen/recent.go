package screen

import "sync"

// recent keeps the last few values that took long to make: one screen is started
// hundreds of times, for the tiles of a tint table. It may be used by any number of
// goroutines at once; the zero value is ready.
type recent[K comparable, V any] struct {
	mu     sync.Mutex
	keys   []K // the latest first
	values []V
}

const recentMost = 8

// get makes the value of a key that is not there; others wait meanwhile.
func (r *recent[K, V]) get(key K, make func() V) V {
	r.mu.Lock()
	defer r.mu.Unlock()
	for i, k := range r.keys {
		if k == key {
			v := r.values[i]
			copy(r.keys[1:i+1], r.keys[:i])
			copy(r.values[1:i+1], r.values[:i])
			r.keys[0], r.values[0] = key, v
			return v
		}
	}
	v := make()
	if len(r.keys) == recentMost {
		r.keys, r.values = r.keys[:recentMost-1], r.values[:recentMost-1]
	}
	r.keys = append([]K{key}, r.keys...)
	r.values = append([]V{v}, r.values...)
	return v
}
