package storetest

import (
	"sync"
	"testing"
	"time"

	"coilward/model/collection"
)

// Start is the moment at which the clock of New begins: a Wednesday morning,
// two hours east of UTC.
func Start() time.Time {
	return time.Date(2027, time.June, 9, 9, 0, 0, 0, time.FixedZone("Europe/Berlin", 2*60*60))
}

// Clock is a clock for tests. It stands still until it is set; it may be used
// from any goroutine.
type Clock struct {
	mutex sync.Mutex
	time  time.Time
}

// NewClock is a clock that stands at Start.
func NewClock() *Clock { return &Clock{time: Start()} }

// Now is the time on the clock.
func (c *Clock) Now() time.Time {
	c.mutex.Lock()
	defer c.mutex.Unlock()
	return c.time
}

// Set puts the clock to t.
func (c *Clock) Set(t time.Time) {
	c.mutex.Lock()
	defer c.mutex.Unlock()
	c.time = t
}

// Pass lets time pass.
func (c *Clock) Pass(d time.Duration) { c.Set(c.Now().Add(d)) }

// New is an empty collection in memory and the clock it runs by.
func New(t testing.TB) (*collection.Collection, *Clock) {
	t.Helper()
	clock := NewClock()
	c, err := collection.New(Memory(), collection.Options{Now: clock.Now})
	if err != nil {
		t.Fatal(err)
	}
	return c, clock
}
