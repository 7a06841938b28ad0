// Package uitest is the hand and the eye of the tests of screens: it finds
// things by their text, taps and types, takes pictures, and looks over a whole
// window for text that is cut or stands outside.
package uitest
