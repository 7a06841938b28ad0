// Package registry lists every command that can be done to a collection. It is
// the one place where the capabilities meet, so that what must hold for all
// commands can be tested over all of them.
package registry

import (
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/people"
)

// Commands are the commands of every capability, one of each, empty.
func Commands() []model.Command {
	var all []model.Command
	for _, some := range [][]model.Command{animals.Commands(), people.Commands(), care.Commands(), exam.Commands()} {
		all = append(all, some...)
	}
	return all
}
