// Package due is the place of what is due: alerts with the act that answers them,
// what is due by animal or by job, and what was not done in a month.
package due
