package model

import (
	"cmp"
	"strings"
)

// Natural compares two names, which are folded already, so that numbers in them count as
// numbers: M-7 stands before M-12. It is the one order of names in lists.
func Natural(a, b string) int {
	for a != "" && b != "" {
		x, y := digits(a), digits(b)
		if x == 0 || y == 0 {
			if a[0] != b[0] {
				return cmp.Compare(a[0], b[0])
			}
			a, b = a[1:], b[1:]
			continue
		}
		m, n := strings.TrimLeft(a[:x], "0"), strings.TrimLeft(b[:y], "0")
		if d := cmp.Or(cmp.Compare(len(m), len(n)), strings.Compare(m, n)); d != 0 {
			return d
		}
		a, b = a[x:], b[y:]
	}
	return cmp.Compare(len(a), len(b))
}

// digits counts the digits a text begins with.
func digits(s string) int {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}
