// Package positive is the place of what was detected: who, since when, how; who was near,
// and what to do now. It decides nothing: package positives does.
package positive
