package papertest

import "fmt"

// Millionths is the number with what it counts.
func (Keys) Millionths(n int64) string { return fmt.Sprintf("%d/1000000", n) }

// Decimal is the number over the power of ten.
func (Keys) Decimal(n int64, places int) string { return fmt.Sprintf("%de-%d", n, places) }

// Microlitres is a volume with its unit.
func (Keys) Microlitres(n int64) string { return fmt.Sprintf("%dµl", n) }

// Interval is the hours.
func (Keys) Interval(hours int) string { return fmt.Sprintf("every %dh", hours) }
