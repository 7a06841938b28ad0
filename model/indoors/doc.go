// Package indoors joins the readings of a place with what is known beside them: the
// checks of the instruments, the power cuts, and the sheds and meals of those who lived
// there. What follows from them is the rules' of model/climate and model/stats.
package indoors
