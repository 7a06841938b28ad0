package particulars

// Unkept tells of a form whether something stands in it that was typed or chosen and not kept,
// and when it may be left all the same.
type Unkept struct {
	state  func() string
	was    string // as it was at first
	warned string // as it was when it was said that it is not kept; empty: that was not said
}

// NewUnkept begins with what stands in a form now; state is all that is typed and chosen there.
func NewUnkept(state func() string) Unkept { return Unkept{state: state, was: state()} }

// Touched reports whether something else stands in the form than at first.
func (u *Unkept) Touched() bool { return u.state() != u.was }

// Leaves reports whether the form may be left. What was typed or chosen in it is not thrown
// away by one key: the first time it is to be said that it is not kept, with warn, and the
// same once more leaves.
func (u *Unkept) Leaves(warn func()) bool {
	state := u.state()
	if state == u.was || state == u.warned {
		return true
	}
	u.warned = state
	warn()
	return false
}
