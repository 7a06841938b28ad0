package demo

import (
	"errors"
	"slices"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/positives"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// What is said of the newcomers and of the positive holds on seven days one after the
// other, so that parcels go off as each weekday has it.
func TestNewcomersOfTheStory(t *testing.T) {
	for i := range 7 {
		c, tables := filled(t, time.Date(2026, 11, 27+i, 7, 30, 0, 0, time.UTC))
		err := c.View(func(v model.View) error {
			return errors.Join(quarantines(t, tables, v), positive(t, tables, v))
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// Three are in quarantine: one has seen mites, one begins anew because another came in,
// and one because it was near a positive. Two were released: one with everything met and
// no word why, one before, with a reason that speaks of nothing else than is missing.
func quarantines(t *testing.T, tables *knowledge.Tables, v model.View) error {
	open, err := newcomers.All(v, tables)
	if err != nil {
		return err
	}
	because := map[string]model.Label{}
	for _, n := range open {
		if n.Err != nil {
			return n.Err
		}
		for _, l := range n.Gate.Lines {
			if l.Again > 0 && (l.Item == quarantine.InRoom || l.Item == quarantine.MiteFree) && len(l.Reasons) > 0 {
				because[n.Animal.Name] = l.Reasons[0]
			}
		}
	}
	if len(open) != 3 || because["Plover"].Key != "quarantine.mites.mites" || because["Yarrow"].Key != "quarantine.why.came-in" || because["Wigeon"].Key != "quarantine.why.near-positive" {
		t.Errorf("%s: %d in quarantine, begun again: %v", v.Now().Day().Weekday(), len(open), because)
	}
	all, err := quarantine.All(v)
	if err != nil {
		return err
	}
	unmet := map[string][]quarantine.ItemID{}
	for _, q := range all {
		if q.Open() {
			continue
		}
		n, _, err := newcomers.Of(v, tables, q.Animal)
		if err != nil {
			return err
		}
		unmet[n.Animal.Name] = []quarantine.ItemID{}
		for _, l := range q.Released.Unmet() {
			if items := unmet[n.Animal.Name]; !slices.Contains(items, l.Item) {
				unmet[n.Animal.Name] = append(items, l.Item)
			}
		}
		if (q.Released.Why == "") != (len(q.Released.Unmet()) == 0) {
			t.Errorf("%s: %v are not met, the reason is %q", n.Animal.Name, unmet[n.Animal.Name], q.Released.Why)
		}
	}
	early := []quarantine.ItemID{quarantine.InRoom, quarantine.LookedFor, quarantine.Faecal}
	if len(unmet) != 2 || len(unmet["Linnet"]) != 0 || !slices.Equal(unmet["Heron"], early) {
		t.Errorf("%s: released without %v", v.Now().Day().Weekday(), unmet)
	}
	return nil
}

// Something was detected in one: it may be a false alarm, half of the list is done, the
// other in the boathouse is named, and the second sample is on its way.
func positive(t *testing.T, tables *knowledge.Tables, v model.View) error {
	all, err := positives.Unsettled(v, tables)
	if err != nil {
		return err
	}
	if len(all) != 1 {
		t.Fatalf("%s: %d are open", v.Now().Day().Weekday(), len(all))
	}
	p := all[0]
	done := 0
	for _, a := range p.Acts {
		if a.Done {
			done++
		}
	}
	if p.ID.IsZero() || p.Names() != "Yarrow" || !p.Stands || !p.MayBeFalse || len(p.Unplaced) > 0 || len(p.Near) != 1 || p.Name(p.Near[0].Animal) != "Wigeon" || done < 4 || len(p.Acts)-done < 4 {
		t.Errorf("%s: positive of %s, near %v, %d of %d done", v.Now().Day().Weekday(), p.Names(), p.Near, done, len(p.Acts))
	}
	if day := v.Now().Day() - detectedOn; p.Opened.Day() != day || p.Reported.Day() != day {
		t.Errorf("opened %s, reported %s, want both on %s", p.Opened.Day(), p.Reported.Day(), day)
	}
	tested, err := samples.All(v)
	if err != nil {
		return err
	}
	second := slices.ContainsFunc(tested, func(s samples.Stored) bool {
		return slices.Equal(s.Animals, p.Animals) && slices.Contains(s.For, p.Agent) && s.Stage() == samples.Sent && s.Taken.Day() > p.Reported.Day()
	})
	if !second {
		t.Errorf("%s: no second sample is on its way", v.Now().Day().Weekday())
	}
	return nil
}
