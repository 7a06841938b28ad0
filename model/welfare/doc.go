// Package welfare holds how an animal feels, as far as that can be seen: what was seen on
// visits, how it was handled, which changes were tried, and what all that tells. Signs of
// ease and unease stand side by side and are never made into one figure. What each sign
// says is in the tables. Source of the lists: Mellor et al. 2020 Animals 10:1870.
package welfare
