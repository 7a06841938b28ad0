// Package check is the place in which one animal is walked from snout to tail
// tip. The walk itself, its keys and its verdict are rules of model/exam; here
// they are shown and forwarded. session holds what the page shows as plain
// values, and everything else draws it.
package check
