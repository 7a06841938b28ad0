package evidence

import "coilward/model"

// Act is what follows from what the samples prove. Values are frozen; the text is
// "chance.act." + value.
type Act string

// What may follow.
const (
	Nothing Act = "nothing" // the chance is at most what is wanted
	Assumed Act = "assumed" // it is if all is as assumed; the vet says whether another sample is worth it
	Take    Act = "take"    // a sample, from a day on
	Await   Act = "await"   // an answer that is on its way
	Apart   Act = "apart"   // no sample speaks while it goes on being exposed
	Vet     Act = "vet"     // it was detected
)

// Standing is how an animal stands to a thing.
type Standing struct {
	Chance   Range
	Goal     float64   // at most this chance is wanted
	Detected bool      // an answer that stands
	Awaited  bool      // a sample that can speak is on its way
	Exposed  bool      // it goes on being exposed
	Last     model.Day // of the last sample that speaks, 0: there is none
	Sees     model.Day // the first day on which a sample can see all that it may have caught
	Between  int       // days from one sample to the next
}

// Next is what follows on a day, and for Take from which day.
func (s Standing) Next(today model.Day) (Act, model.Day) {
	switch {
	case s.Detected:
		return Vet, 0
	case s.Exposed:
		return Apart, 0
	case s.Awaited:
		return Await, 0
	case s.Chance.High <= s.Goal:
		return Nothing, 0
	case s.Chance.Mid <= s.Goal: // the high end falls so slowly that samples would be asked for over years
		return Assumed, 0
	}
	from := max(today, s.Sees)
	if s.Last != 0 {
		from = max(from, s.Last+model.Day(s.Between))
	}
	return Take, from
}
