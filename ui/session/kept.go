package session

// kept is the last value made and what it was made from.
type kept[K, V any] struct {
	same func(a, b K) bool

	key   K
	value V
	ok    bool
}

// get gives the kept value if it was made from the same key, else makes it anew.
func (k *kept[K, V]) get(key K, make func() (V, error)) (V, error) {
	if k.ok && k.same(k.key, key) {
		return k.value, nil
	}
	v, err := make()
	k.key, k.value, k.ok = key, v, err == nil
	return v, err
}

// has tells whether the kept value was made from a key.
func (k *kept[K, V]) has(key K) bool { return k.ok && k.same(k.key, key) }

func equal[K comparable](a, b K) bool { return a == b }
