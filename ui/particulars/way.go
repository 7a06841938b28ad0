package particulars

import (
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/ui/place"
)

// Way is where the act that answers an item is done.
func Way(i due.Item) place.Route {
	to := place.Route{To: place.Animal, Subject: i.Subject.ID}
	switch i.Act {
	case due.ActCheck:
		to.To = place.Check
	case due.ActWeigh:
		to.Page = "weight"
	case due.ActFeed:
		to.Page = "meal"
	case due.ActClean, due.ActRoom:
		to = place.Route{To: place.Shelf, Subject: i.Subject.ID}
	case due.ActMites:
		to.Page = "mite-look"
	case due.ActPhotos:
		to.Page = "photo"
	case due.ActPowerCut:
		to = place.Route{To: place.PowerCut}
	case due.ActFeeders:
		to.To = place.Feeders
	case due.ActInstrument:
		to.To = place.Instruments
	case due.ActNewcomers:
		to.To = place.Newcomers
	case due.ActMedicine, due.ActVisit, due.ActVet:
		to.Page = "vet"
	case due.ActTray:
		to.To = place.Tray
	case due.ActPositive:
		if to.To = place.Positive; i.Level >= knowledge.VetWithinDays {
			to.Page = "open" // none was opened yet
		}
	}
	return to
}
