// Package assumed keeps figures of the tables of chances as the keeper, or the keeper's
// vet, wants them: how likely a thing is before any sample, how well it is found, how it is
// carried. Each stands in place of a row of a table, with the reason why, and is told
// wherever the figure is.
package assumed
