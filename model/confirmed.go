package model

import "slices"

// Confirmed lists the reasons of the refusals to which the person has said
// "yes, it is so" (Answer Confirm). A command that carries a reason is not asked
// about it again.
type Confirmed []string

// Has reports whether the reason was confirmed.
func (c Confirmed) Has(reason string) bool { return slices.Contains(c, reason) }
