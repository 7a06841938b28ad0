package history

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/care"
)

// What an entry deserves among all others is what is said of it when it is made: by what
// was noted before it, and by nothing later.
func TestJudgeSaysOfEachWhatWasSaidOnItsDay(t *testing.T) {
	tb := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		var entries []care.Entry
		at := 2000
		for i, body := range rapid.SliceOfN(bodies(), 0, 60).Draw(t, "entries") {
			at -= rapid.IntRange(1, 16).Draw(t, "days")
			entries = append(entries, care.Entry{ID: model.EntryID{ID: model.ID{1, byte(i)}}, At: day(at), Body: body})
		}
		all := Made(tb, Whose{}, entries, nil, day(2000))
		var want []Said
		for i, e := range entries {
			before := Made(tb, Whose{}, entries[i+1:], nil, day(2000))
			before.Context.LastMeal, before.Context.LosingWeight = all.Context.LastMeal, all.Context.LosingWeight // of now, both
			if v := before.Says(tb, e); len(v.Signs) > 0 {
				want = append(want, Said{e.ID, v})
			}
		}
		if diff := cmp.Diff(want, all.Judge(tb), cmp.AllowUnexported(model.Moment{})); diff != "" {
			t.Errorf("on its day (-), among all (+):\n%s", diff)
		}
	})
}
