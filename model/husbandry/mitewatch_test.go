package husbandry_test

import (
	"testing"
	"time"

	"coilward/model"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// Two places that were noted as standing in each other, as taking back old changes may
// leave them, end the search for how warm it is: it is not known there.
func TestHowWarmIsAskedOnceOfPlacesThatStandInEachOther(t *testing.T) {
	w := begin(t)
	asp := w.animal("Asp")
	ids := []model.PlaceID{{ID: model.ID{1}}, {ID: model.ID{2}}}
	for base := range uint32(2) {
		for i, id := range ids {
			d := model.Document{Type: model.TypePlace, ID: id.ID, At: ago(60), Revision: base}
			if err := d.Encode(1, husbandry.Place{Name: "Tub", Kind: husbandry.Tub, Parent: ids[1-i]}); err != nil {
				t.Fatal(err)
			}
			w.do(storetest.Put{Documents: []model.Document{d}})
		}
	}
	w.do(husbandry.Move{Animal: asp, Place: ids[0], At: ago(30)})
	house, days := w.house(), make(chan int, 1)
	go func() { days <- house.MiteWatch(w.tables, asp, ago(20).Day(), ago(0)) }()
	select {
	case n := <-days:
		if n != w.tables.Value(knowledge.ValueMiteWatchCool) {
			t.Errorf("watched for %d days", n)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("the search does not end")
	}
}
