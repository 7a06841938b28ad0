package care

import "coilward/model"

// CheckSeen tells why something that was seen of an animal cannot have been seen on that
// day, or asks whether it is so, by the rules of a weighing. The error is a *model.Refusal
// then.
func CheckSeen(v model.View, a About) error {
	of, err := subjectOf(v, a.Animal)
	if err != nil {
		return err
	}
	if r := of.checkDay(a, KindWeight, v.Now()); r != nil {
		return r
	}
	return nil
}
