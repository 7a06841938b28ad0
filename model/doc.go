// Package model is the vocabulary that every part of the program shares: ids,
// subjects, moments and days, quantities, documents, and the shape of a
// command. It holds no rule and knows no file, screen or paper, and it imports
// the standard library only.
package model
