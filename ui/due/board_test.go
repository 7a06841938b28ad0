package due

import (
	"testing"

	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/ui/particulars"
	"coilward/ui/place"
)

func item(of *due.Owner, job due.Job, act due.Act, level knowledge.Level) due.Item {
	return due.Item{Of: of, Obligation: due.Obligation{Key: due.Key{Subject: of.Subject, Job: job}, Act: act, Level: level}}
}

func owner(n byte, name string) *due.Owner {
	return &due.Owner{Subject: model.AnimalID{ID: model.ID{n}}.Subject(), Name: name}
}

// Items keep their order in their group; animals come by their first item, jobs
// by the order of jobs.
func TestGroups(t *testing.T) {
	ash, brook := owner(1, "Ash"), owner(2, "Brook")
	items := []due.Item{item(brook, due.Weigh, due.ActWeigh, 0), item(ash, due.Offer, due.ActFeed, 0), item(brook, due.LookAgain, due.ActCheck, 0), item(ash, due.Weigh, due.ActWeigh, 0)}
	said := func(byJob bool) (all []string) {
		for _, g := range Groups(items, byJob) {
			line := string(g.Job)
			if g.Of != nil {
				line = g.Of.Name
			}
			for _, i := range g.Items {
				line += " " + i.Of.Name + "/" + string(i.Job)
			}
			all = append(all, line)
		}
		return all
	}
	for byJob, want := range map[bool][]string{
		false: {"Brook Brook/weigh Brook/look-again", "Ash Ash/offer Ash/weigh"},
		true:  {"look-again Brook/look-again", "weigh Brook/weigh Ash/weigh", "offer Ash/offer"},
	} {
		got := said(byJob)
		if len(got) != len(want) {
			t.Fatalf("by job %t: %q", byJob, got)
		}
		for i := range want {
			if got[i] != want[i] {
				t.Errorf("by job %t: %q, want %q", byJob, got[i], want[i])
			}
		}
	}
}

// Every act leads somewhere, and every job has a sign of its own.
func TestWaysAndSigns(t *testing.T) {
	ash := owner(1, "Ash")
	for act, want := range map[due.Act]place.Route{
		due.ActVet: {To: place.Animal, Page: "vet"}, due.ActCheck: {To: place.Check}, due.ActWeigh: {To: place.Animal, Page: "weight"}, due.ActFeed: {To: place.Animal, Page: "meal"},
		due.ActClean: {To: place.Shelf}, due.ActMites: {To: place.Animal, Page: "mite-look"}, due.ActInstrument: {To: place.Instruments}, due.ActTray: {To: place.Tray}, due.ActNewcomers: {To: place.Newcomers}, due.ActPositive: {To: place.Positive}, due.ActMedicine: {To: place.Animal, Page: "vet"}, due.ActVisit: {To: place.Animal, Page: "vet"}, due.ActRoom: {To: place.Shelf}, due.ActFeeders: {To: place.Feeders}, due.ActPhotos: {To: place.Animal, Page: "photo"},
	} {
		want.Subject = ash.Subject.ID
		if got := particulars.Way(item(ash, due.Check, act, 0)); got != want {
			t.Errorf("%s leads to %+v, want %+v", act, got, want)
		}
	}
	signs := map[string]due.Job{}
	for _, j := range due.Jobs() {
		if other, taken := signs[Icon(j)]; taken {
			t.Errorf("%s has the sign of %s", j, other)
		}
		signs[Icon(j)] = j
	}
}
