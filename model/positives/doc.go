// Package positives joins a positive with what the other capabilities know: where the
// animals lived, what their samples said, who is a newcomer. Its rules are those of
// package contact.
package positives
