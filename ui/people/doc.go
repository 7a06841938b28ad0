// Package people is the place where the people round the animals stand: who is
// called, asked or sold to, who looks after the animals and who writes. They are
// added, changed and removed here.
package people
