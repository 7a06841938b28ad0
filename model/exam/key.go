package exam

import "strings"

// Key is the key of the text for the answer.
func (l Look) Key() string {
	if l == NotYet {
		return "look.not-yet"
	}
	return "look." + strings.ReplaceAll(strings.ReplaceAll(string(l), " the ", " "), " ", "-")
}

// Key is the key of the text for the grade.
func (g Grade) Key() string { return "grade." + g.String() }

// Key is the key of the text for the standing.
func (s Standing) Key() string {
	if s == Unasked {
		return "standing.unasked"
	}
	return "standing." + string(s)
}

// Key is the key of the text for the extent.
func (e Extent) Key() string { return "extent." + string(e) }

// Key is the key of the text for what is due.
func (k ObligationKind) Key() string { return "due." + string(k) }

// Key is the key of the text for the shed phase.
func (p ShedPhase) Key() string {
	if p == ShedUnknown {
		return "shed.unknown"
	}
	return "shed." + string(p)
}

// Key is the key of the text for the age class.
func (a Age) Key() string {
	if a == AgeUnknown {
		return "age.unknown"
	}
	return "age." + string(a)
}
