package due

import (
	"coilward/model"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/powercut"
)

// meals makes the next offer due: by the class of the animal after the last
// offer, taken or not; after prey was brought up only when its wait is over; and
// once alone for an adult that fasts.
func meals(t *knowledge.Tables, f Facts) []Obligation {
	rhythm, known := f.Class(t)
	o := Obligation{Key: Key{Job: Offer, Cause: "none"}, Since: f.Animal.Begun(), Every: rhythm.OfferBy, Act: ActFeed}
	o.From, o.By = o.Since+model.Day(rhythm.OfferFrom), o.Since+model.Day(rhythm.OfferBy)
	o.Reasons = why("due.why.never-offered", map[string]model.Gap{"Day": model.DayGap(o.Since)})
	if e, meal, offered := f.lastOffer(); offered {
		o.after(t, f, e, meal, rhythm)
	}
	switch {
	case f.ill() || len(chilled(t, f)) > 0:
		o.Caution = "due.caution.ask-vet"
	case powercut.FoodWaits(f.Cuts, f.Now.Day()):
		o.Caution = "due.caution.power-cut-feed"
	case !known:
		o.Caution = "due.caution.class"
	}
	return []Obligation{o}
}

// after counts an offer from the last one.
func (o *Obligation) after(t *knowledge.Tables, f Facts, e care.Entry, meal care.Meal, rhythm knowledge.Rhythm) {
	o.Cause, o.Since = e.ID.String(), e.At.Day()
	o.From, o.By = o.Since+model.Day(rhythm.OfferFrom), o.Since+model.Day(rhythm.OfferBy)
	o.Reasons = why("due.why.offered", map[string]model.Gap{"Day": model.DayGap(o.Since), "From": model.CountGap(rhythm.OfferFrom),
		"By": model.CountGap(rhythm.OfferBy), "Class": model.KeyGap("age." + string(rhythm.Class))})
	if f.Animal.OfferEvery > 0 {
		o.Reasons = why("due.why.offered-own", map[string]model.Gap{"Day": model.DayGap(o.Since), "Every": model.CountGap(f.Animal.OfferEvery)})
	}
	from, on, broughtUp := care.OfferAfterBroughtUp(t, f.Records.Entries)
	switch kept, fasts := f.fasting(t); {
	case broughtUp && (meal.Outcome == care.Regurgitated || from > o.From):
		o.From, o.Since = from, on
		o.By = o.From
		o.Reasons = why("due.why.brought-up", map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(t.Value(knowledge.ValueWaitBroughtUp))})
	case fasts && rhythm.Class == adult:
		o.From, o.Once = o.By, true
		o.Reasons = why("due.why.fasts", map[string]model.Gap{"Day": model.DayGap(kept), "Days": model.CountGap(int(f.Now.Day() - kept)), "Offered": model.DayGap(o.Since)})
	case meal.Outcome == care.Refused:
		gaps := map[string]model.Gap{"Day": model.DayGap(o.Since), "From": model.CountGap(rhythm.OfferFrom), "By": model.CountGap(rhythm.OfferBy)}
		o.Reasons = why("due.why.refused", gaps)
		if n := f.refusals(); n > 1 {
			gaps["Count"] = model.CountGap(n)
			o.Reasons = why("due.why.refused-again", gaps)
		}
	}
}

const adult knowledge.ClassID = knowledge.ClassID(exam.Adult)

// unfed makes the vet due for a hatchling or juvenile that has kept no meal for
// as long as the tables say.
func unfed(t *knowledge.Tables, f Facts) []Obligation {
	u := f.Standing.Unfed
	if u.IsZero() {
		return nil
	}
	o := Obligation{Key: Key{Job: SeeVet, Cause: "unfed/none"}, Level: knowledge.VetWithinDays, Act: ActVet, Since: u.Since, From: u.From}
	o.By = o.From + model.Day(t.Value(knowledge.ValueVetWithin))
	o.Brief = briefly("due.brief.unfed", map[string]model.Gap{"Day": model.DayGap(o.Since)})
	o.Reasons = why("due.why.young-never", map[string]model.Gap{"Day": model.DayGap(o.Since)})
	if !u.Meal.IsZero() {
		o.Cause = "unfed/" + u.Meal.String()
		o.Reasons = why("due.why.young-unfed", map[string]model.Gap{"Day": model.DayGap(o.Since), "Days": model.CountGap(int(f.Now.Day() - o.Since))})
	}
	return []Obligation{o}
}

// lastOffer is the newest meal, whatever became of it.
func (f Facts) lastOffer() (care.Entry, care.Meal, bool) {
	for _, e := range f.Records.Entries {
		if meal, ok := e.Body.(care.Meal); ok {
			return e, meal, true
		}
	}
	return care.Entry{}, care.Meal{}, false
}

// refusals is how many offers in a row were refused, up to the last.
func (f Facts) refusals() int {
	n := 0
	for _, e := range f.Records.Entries {
		if meal, ok := e.Body.(care.Meal); ok {
			if meal.Outcome != care.Refused {
				break
			}
			n++
		}
	}
	return n
}

// fasting reports whether the animal has kept no meal for over twice its usual
// time and for as many days as the tables say, and since when. Where no meal kept
// is known, it is not known to fast.
func (f Facts) fasting(t *knowledge.Tables) (since model.Day, fasts bool) {
	fast, known := f.Records.Fast(t)
	return fast.Kept, known && f.Now.Day() >= fast.From
}
