package collection

import "sync"

// feed tells listeners of changes in the order in which they were committed.
// Whoever finds changes waiting and nobody telling tells them all, so a listener
// may itself make a change: its turn comes after the one being told.
type feed struct {
	mutex     sync.Mutex
	waiting   []Change
	telling   bool
	next      int
	listeners []listener
}

type listener struct {
	number int
	hear   func(Change)
}

// Subscribe has hear called after each change, in the order of commitment, on
// the goroutine of one of those who make changes. hear may view the collection
// and may change it; it must not wait for another goroutine that does. Calling
// cancel ends it, except for a change that is being told already.
func (c *Collection) Subscribe(hear func(Change)) (cancel func()) {
	f := &c.feed
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.next++
	number := f.next
	f.listeners = append(f.listeners[:len(f.listeners):len(f.listeners)], listener{number, hear})
	return func() { f.remove(number) }
}

func (f *feed) remove(number int) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	var left []listener
	for _, l := range f.listeners {
		if l.number != number {
			left = append(left, l)
		}
	}
	f.listeners = left
}

func (f *feed) add(change Change) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.waiting = append(f.waiting, change)
}

func (f *feed) deliver() {
	if !f.begin() {
		return
	}
	told := false
	defer func() {
		if !told { // a listener panicked: let the next one tell the rest
			f.end()
		}
	}()
	for {
		change, listeners, ok := f.take()
		if !ok {
			told = true
			return
		}
		for _, l := range listeners {
			l.hear(change)
		}
	}
}

func (f *feed) begin() bool {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if f.telling {
		return false
	}
	f.telling = true
	return true
}

func (f *feed) end() {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.telling = false
}

// take is the next change. Ending the telling under the same lock as finding
// nothing makes sure that no change is left lying.
func (f *feed) take() (Change, []listener, bool) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	if len(f.waiting) == 0 {
		f.telling = false
		return Change{}, nil, false
	}
	change := f.waiting[0]
	f.waiting = f.waiting[1:]
	return change, f.listeners, true
}
