// Package feeders is the place of the stock of frozen prey: its batches, what was
// thawed out of them, and what happened to the freezer.
package feeders
