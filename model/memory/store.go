// Package memory is a store in memory, with the same promises as the one on disk:
// for the sample collection, which leaves no trace, and for tests.
package memory

import (
	"errors"
	"fmt"
	"hash/maphash"
	"sync"
	"sync/atomic"

	"coilward/model"
	"coilward/model/collection"
)

// Open is an empty store: views
// keep the state they began with, updates are all or nothing.
func Open() collection.Store {
	m := &store{seed: maphash.MakeSeed()}
	m.present.Store(&state{})
	return m
}

type store struct {
	seed    maphash.Seed
	writing sync.Mutex
	present atomic.Pointer[state]
}

// state is a tree for each bucket. Trees are never changed, only replaced.
type state map[collection.Bucket]*node

func (m *store) View(read func(collection.Reader) error) error {
	return read(&transaction{state: *m.present.Load()})
}

func (m *store) Update(write func(collection.Writer) error) error {
	m.writing.Lock()
	defer m.writing.Unlock()
	next := state{}
	for b, root := range *m.present.Load() {
		next[b] = root
	}
	if err := write(&transaction{state: next, seed: m.seed}); err != nil {
		return err
	}
	m.present.Store(&next)
	return nil
}

type transaction struct {
	state state
	seed  maphash.Seed
}

func (t *transaction) Get(b collection.Bucket, key []byte) ([]byte, error) {
	for n := t.state[b]; n != nil; {
		switch {
		case string(key) == n.key:
			return []byte(n.value), nil
		case string(key) < n.key:
			n = n.left
		default:
			n = n.right
		}
	}
	return nil, fmt.Errorf("key %x of bucket %s: %w", key, b, model.ErrNotFound)
}

func (t *transaction) Walk(b collection.Bucket, from, to []byte, backwards bool, visit func(key, value []byte) bool) error {
	w := walk{from: string(from), to: string(to), open: to == nil, visit: visit}
	if backwards {
		w.down(t.state[b])
	} else {
		w.up(t.state[b])
	}
	return nil
}

func (t *transaction) Put(b collection.Bucket, key, value []byte) error {
	if len(key) == 0 || len(value) == 0 {
		return errors.New("put into bucket " + string(b) + ": key and value may not be empty")
	}
	k := string(key)
	left, right := cut(t.state[b], k)
	middle := &node{key: k, value: string(value), weight: maphash.String(t.seed, k)}
	t.state[b] = join(join(left, middle), without(right, k))
	return nil
}

func (t *transaction) Delete(b collection.Bucket, key []byte) error {
	t.state[b] = without(t.state[b], string(key))
	return nil
}

// node is a node of a treap: keys in order from left to right, weights falling
// from the root down, which keeps the tree shallow.
type node struct {
	key, value  string
	weight      uint64
	left, right *node
}

// cut parts a tree into the keys below key and the others.
func cut(n *node, key string) (below, others *node) {
	if n == nil {
		return nil, nil
	}
	copied := *n
	if n.key < key {
		copied.right, others = cut(n.right, key)
		return &copied, others
	}
	below, copied.left = cut(n.left, key)
	return below, &copied
}

// join puts two trees together, all keys of a below those of b.
func join(a, b *node) *node {
	if a == nil {
		return b
	}
	if b == nil {
		return a
	}
	if a.weight > b.weight {
		copied := *a
		copied.right = join(a.right, b)
		return &copied
	}
	copied := *b
	copied.left = join(a, b.left)
	return &copied
}

func without(n *node, key string) *node {
	if n == nil {
		return nil
	}
	copied := *n
	switch {
	case key == n.key:
		return join(n.left, n.right)
	case key < n.key:
		copied.left = without(n.left, key)
	default:
		copied.right = without(n.right, key)
	}
	return &copied
}

type walk struct {
	from, to string
	open     bool // there is no to
	visit    func(key, value []byte) bool
}

func (w *walk) show(n *node) bool {
	if n.key < w.from || !w.open && n.key >= w.to {
		return true
	}
	return w.visit([]byte(n.key), []byte(n.value))
}

// up visits in order; it reports whether to go on.
func (w *walk) up(n *node) bool {
	return n == nil ||
		(n.key < w.from || w.up(n.left)) && w.show(n) && (!w.open && n.key >= w.to || w.up(n.right))
}

func (w *walk) down(n *node) bool {
	return n == nil ||
		(!w.open && n.key >= w.to || w.down(n.right)) && w.show(n) && (n.key < w.from || w.down(n.left))
}
