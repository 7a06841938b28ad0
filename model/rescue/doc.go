// Package rescue knows in which order the animals of a house are brought to the warm when its
// heating fails, and why. It is no judgement of who matters more: those come first who
// bear the cold worst, or of whom least is known.
package rescue
