// Package climate holds the rules of heat, humidity and light: the water in the air,
// what a zone of an enclosure should be like, and what the readings of a logger say
// and do not say. It keeps the readings as one packed document for each sensor and
// day. It knows no file: whoever reads one hands the readings in.
package climate
