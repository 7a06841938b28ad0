package tray

import (
	"fmt"
	"strconv"
	"strings"
)

// Following is the number of the kit after one: its last digits counted on, with as
// many noughts before them; empty where it ends in no digit.
func Following(number string) string {
	stem := strings.TrimRight(number, "0123456789")
	digits := number[len(stem):]
	n, err := strconv.ParseUint(digits, 10, 62)
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%s%0*d", stem, len(digits), n+1)
}
