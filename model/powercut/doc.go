// Package powercut knows of power cuts that were: from when to when, in which rooms, how
// cold it became; and of the watch over the animals that lived there, which ends by looks
// and not by time alone.
package powercut
