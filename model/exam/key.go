package exam

// Key is the key of the text for the answer: the answers' own values hold spaces.
func (l Look) Key() string {
	switch l {
	case Seen:
		return "look.seen"
	case Felt:
		return "look.felt"
	case NotLooked:
		return "look.not-looked"
	case LeftToVet:
		return "look.left-to-vet"
	}
	return "look.not-yet"
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
