package samples

import (
	"fmt"
	"strconv"
	"strings"
)

// Following is the number of the kit after one: its last digits counted on, with as
// many noughts before them; empty where it ends in no digit.
func Following(number string) string {
	stem, digits := ending(number)
	n, err := strconv.ParseUint(digits, 10, 62)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%s%0*d", stem, len(digits), n+1)
}

// Numbered is a number with other digits at its end, as they are typed at the tube:
// with noughts before them where they are fewer.
func Numbered(number, typed string) string {
	stem, digits := ending(number)
	return stem + strings.Repeat("0", max(0, len(digits)-len(typed))) + typed
}

// ending parts a number before its last digits.
func ending(number string) (stem, digits string) {
	stem = strings.TrimRight(number, "0123456789")
	return stem, number[len(stem):]
}
