package body

// Zone is a stretch of the body that charts name beside their axis, text
// "zone." + ID. It is made of whole regions.
type Zone struct {
	ID       string
	From, To Place // both the zero Place: the whole animal, which lies nowhere along it
}

// Zones are the whole animal, then the stretches of the body from snout to tail
// tip. They join without a gap.
func Zones() []Zone {
	at := func(along int) Place { return OnTrunk(along, 0) }
	zones := []Zone{{ID: "whole"}, {"head", at(0), at(HeadShare)}}
	for _, z := range []struct {
		id          string
		first, last RegionID
	}{{"neck", "neck.back", "neck.back"}, {"fore", "fore.back", "fore.back"}, {"middle", "upper-mid.back", "lower-mid.back"}, {"hind", "hind.back", BeforeVentBack}} {
		from, _, _ := Stretch(z.first)
		_, to, _ := Stretch(z.last)
		zones = append(zones, Zone{z.id, at(from), at(to)})
	}
	return append(zones, Zone{"tail", OnTail(0, 0), OnTail(Full, 0)})
}

// Whole reports whether the place is the whole animal and no place on it.
func (p Place) Whole() bool { return p.Region == "" }
