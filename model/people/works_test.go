package people_test

import (
	"testing"

	"coilward/model/people"
)

func TestWhoseEntriesMayBe(t *testing.T) {
	for _, c := range []struct {
		roles []people.Role
		want  bool
	}{
		{nil, true}, {[]people.Role{people.Hand}, true}, {[]people.Role{people.Sitter}, true}, {[]people.Role{people.Vet, people.Hand}, true},
		{[]people.Role{people.Vet}, false}, {[]people.Role{people.OutOfHours, people.Lab}, false}, {[]people.Role{people.Breeder}, false}, {[]people.Role{people.Buyer}, false},
	} {
		if got := (people.Person{Roles: c.roles}).Works(); got != c.want {
			t.Errorf("%v: %v", c.roles, got)
		}
	}
}
