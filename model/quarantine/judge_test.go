package quarantine_test

import (
	"math/rand"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
)

func load(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

const (
	arrived model.Day         = 20_000
	serpent knowledge.AgentID = "serpentovirus"
	ferla   knowledge.AgentID = "ferlavirus"
)

func id(n int) model.ID           { return model.ID{0: byte(n >> 8), 15: byte(n)} }
func entry(n int) model.EntryID   { return model.EntryID{ID: id(n)} }
func sample(n int) model.SampleID { return model.SampleID{ID: id(n)} }
func on(day int) model.Day        { return arrived + model.Day(day) }
func grams(g int64) model.Mass    { return model.Grams(g) }
func protocol(t *knowledge.Tables, of knowledge.ProtocolID) quarantine.Protocol {
	p, _ := t.Protocol(of)
	return p
}

// clear is a sample of a day whose answer came three days later.
func clear(n int, of knowledge.AgentID, day int) quarantine.Result {
	return quarantine.Result{Sample: sample(n), Of: of, Taken: on(day), Reported: on(day + 3), Outcome: quarantine.NotDetected, Speaks: true, Faeces: of == knowledge.FaecalAgent}
}

// detected is a sample of a day in which a thing was detected.
func detected(day int, of knowledge.AgentID) quarantine.Result {
	r := clear(90, of, day)
	r.Outcome = quarantine.Detected
	return r
}

// fasting makes it fast, and weigh so much after 1,000 g, where the fast is known to cost
// such shares, in hundredths of a percent, until the one weighing and the other.
func fasting(g int64, first, last int) func(*quarantine.Facts) {
	return func(f *quarantine.Facts) {
		f.FastsSince, f.Weights[0].Cost = on(50), first
		f.Weights[1].Mass, f.Weights[1].Cost = grams(g), last
	}
}

// whole are the facts of a newcomer that has met everything that the protocol of 90
// days asks, on its day 90.
func whole() quarantine.Facts {
	return quarantine.Facts{Today: on(90), Arrived: arrived, OfferEvery: 10,
		Mites: quarantine.Mites{Days: 77, Cool: true, From: on(1), Why: quarantine.FromLook, On: []model.EntryID{entry(1)}, Ends: on(78), Over: on(84), Last: on(84), Next: on(91)},
		Results: []quarantine.Result{clear(1, serpent, 5), clear(1, ferla, 5), clear(2, serpent, 62), clear(2, ferla, 62),
			clear(3, knowledge.FaecalAgent, 14), clear(4, knowledge.FaecalAgent, 30), clear(5, knowledge.FaecalAgent, 80)},
		Checks:  []quarantine.Check{{Entry: entry(10), Day: on(1), Full: true}, {Entry: entry(11), Day: on(86), Full: true}},
		Open:    quarantine.Open{Known: true, Since: on(1)},
		Meals:   []quarantine.Meal{{Entry: entry(20), Day: on(12)}, {Entry: entry(21), Day: on(26)}},
		Weights: []quarantine.Weight{{Entry: entry(30), Day: on(0), Mass: grams(1000)}, {Entry: entry(31), Day: on(84), Mass: grams(960)}},
		Sheds:   []quarantine.Shed{{Entry: entry(40), Day: on(40), Whole: true}}}
}

func line(t testing.TB, g quarantine.Gate, item quarantine.ItemID) quarantine.Line {
	t.Helper()
	for _, l := range g.Lines {
		if l.Item == item {
			return l
		}
	}
	t.Fatalf("no line of %s", item)
	return quarantine.Line{}
}

func reasons(l quarantine.Line) (keys []string) {
	for _, r := range l.Reasons {
		keys = append(keys, r.Key)
	}
	return keys
}

// All is met, each line since its own day; the whole since the last of them. Source of
// what is asked: the protocol of 90 days, hobby quarantine pages and common practice.
func TestAWholeListIsMet(t *testing.T) {
	tables := load(t)
	g := quarantine.Judge(tables, protocol(tables, "python"), whole())
	if !g.Met || g.Earliest != on(90) || len(g.Lines) != 12 || len(g.Unmet()) != 0 || len(g.Holds()) != 0 {
		t.Fatalf("met %v, earliest day %d, %d lines, unmet %+v", g.Met, g.Earliest-arrived, len(g.Lines), g.Unmet())
	}
	for item, since := range map[quarantine.ItemID]int{quarantine.InRoom: 90, quarantine.MiteFree: 84, quarantine.LookedFor: 65, quarantine.Faecal: 83, quarantine.FullCheck: 86,
		quarantine.NoneFound: 8, quarantine.NothingUp: 1, quarantine.Meals: 28, quarantine.Weighed: 84, quarantine.WholeShed: 40, quarantine.NoneAway: 83} {
		if l := line(t, g, item); l.Since != on(since) || l.Earliest != l.Since || l.State != quarantine.Met {
			t.Errorf("%s: %s since day %d, want %d", item, l.State, l.Since-arrived, since)
		}
	}
	for item, until := range map[quarantine.ItemID]int{quarantine.LookedFor: 92, quarantine.FullCheck: 93, quarantine.Weighed: 114, quarantine.InRoom: -int(arrived)} {
		if l := line(t, g, item); l.Until != on(until) {
			t.Errorf("%s: until day %d, want %d", item, l.Until-arrived, until)
		}
	}
	if l := line(t, g, quarantine.LookedFor); !slices.Equal(l.On, []model.ID{id(1), id(2)}) || l.Have != 2 || l.Want != 2 {
		t.Errorf("it rests on %v, %d of %d", l.On, l.Have, l.Want)
	}
}

// One thing is otherwise than in the whole list.
func TestEachLine(t *testing.T) {
	tables := load(t)
	for name, c := range map[string]struct {
		change   func(f *quarantine.Facts)
		item     quarantine.ItemID
		state    quarantine.State
		earliest int
		again    int // 0: it does not begin anew
		reason   string
	}{
		"a day too few":                               {func(f *quarantine.Facts) { f.Today-- }, quarantine.InRoom, quarantine.NotMet, 90, 0, ""},
		"somebody came in":                            {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(40), Name: "Nettle"}} }, quarantine.InRoom, quarantine.NotMet, 130, 40, "quarantine.why.came-in"},
		"somebody came with it":                       {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(0), Name: "Nettle"}} }, quarantine.InRoom, quarantine.Met, 90, 0, ""},
		"it lives nowhere":                            {func(f *quarantine.Facts) { f.Nowhere = true }, quarantine.InRoom, quarantine.CannotTell, 90, 0, "quarantine.why.no-place"},
		"it lives nowhere yet":                        {func(f *quarantine.Facts) { f.Nowhere, f.Today = true, on(20) }, quarantine.InRoom, quarantine.CannotTell, 90, 0, "quarantine.why.no-place"},
		"somebody comes tomorrow":                     {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(91), Name: "Nettle"}} }, quarantine.InRoom, quarantine.Met, 90, 0, ""},
		"it came to others":                           {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(1)}, {Day: on(2)}} }, quarantine.InRoom, quarantine.NotMet, 92, 2, "quarantine.why.moved-to-others"},
		"somebody came after the last sample":         {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(63), Name: "Nettle"}} }, quarantine.LookedFor, quarantine.NotMet, 90, 63, "quarantine.why.came-in"},
		"somebody came on the day of the last sample": {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(62), Name: "Nettle"}} }, quarantine.LookedFor, quarantine.NotMet, 90, 62, "quarantine.why.came-in"},
		"somebody came on the day before":             {func(f *quarantine.Facts) { f.Restarts = []quarantine.Restart{{Day: on(61), Name: "Nettle"}} }, quarantine.LookedFor, quarantine.Met, 65, 0, ""},
		"near one that had it": {func(f *quarantine.Facts) {
			f.Restarts = []quarantine.Restart{{Day: on(50), Positive: id(70), Agent: serpent, Speaks: on(78)}}
		}, quarantine.LookedFor, quarantine.NotMet, 90, 50, "quarantine.why.near-positive"},
		"near one that had it lately": {func(f *quarantine.Facts) {
			f.Restarts = []quarantine.Restart{{Day: on(80), Positive: id(70), Agent: serpent, Speaks: on(108)}}
		}, quarantine.LookedFor, quarantine.NotMet, 108, 80, "quarantine.why.near-positive"},
		"near one that had something else": {func(f *quarantine.Facts) {
			f.Restarts = []quarantine.Restart{{Day: on(50), Positive: id(70), Agent: ferla, Speaks: on(78)}}
		}, quarantine.LookedFor, quarantine.Met, 65, 0, ""},
		"near one, and no figure is known": {func(f *quarantine.Facts) {
			f.Restarts = []quarantine.Restart{{Day: on(50), Positive: id(70), Agent: serpent}}
		}, quarantine.LookedFor, quarantine.Met, 65, 0, "quarantine.why.no-figure"},

		"no look for mites": {func(f *quarantine.Facts) { f.Mites = quarantine.Mites{Days: 77} }, quarantine.MiteFree, quarantine.NotMet, 167, 0, "quarantine.why.mites-no-look"},
		"mites": {func(f *quarantine.Facts) {
			f.Mites.Over, f.Mites.Why, f.Mites.From, f.Mites.Ends = 0, quarantine.FromMites, on(70), on(147)
		}, quarantine.MiteFree, quarantine.NotMet, 147, 70, "quarantine.mites.mites"},
		"the last look is to come":    {func(f *quarantine.Facts) { f.Mites.Over = 0 }, quarantine.MiteFree, quarantine.NotMet, 90, 0, "quarantine.mites.look"},
		"a speck after all":           {func(f *quarantine.Facts) { f.Mites.Speck = on(89) }, quarantine.MiteFree, quarantine.NotMet, 92, 0, "quarantine.mites.look"},
		"an old speck":                {func(f *quarantine.Facts) { f.Mites.Speck = on(80) }, quarantine.MiteFree, quarantine.NotMet, 90, 0, "quarantine.mites.look"},
		"a speck while it is watched": {func(f *quarantine.Facts) { f.Mites.Speck, f.Mites.Over, f.Mites.Ends = on(80), 0, on(95) }, quarantine.MiteFree, quarantine.NotMet, 95, 0, "quarantine.mites.look"},

		"one sample alone":             {func(f *quarantine.Facts) { f.Results = slices.Delete(f.Results, 2, 3) }, quarantine.LookedFor, quarantine.NotMet, 90, 0, "quarantine.why.more-results"},
		"a second too soon":            {func(f *quarantine.Facts) { f.Results[0].Taken = on(21) }, quarantine.LookedFor, quarantine.NotMet, 90, 0, "quarantine.why.more-results"},
		"a second just late enough":    {func(f *quarantine.Facts) { f.Results[0].Taken, f.Results[0].Reported = on(20), on(23) }, quarantine.LookedFor, quarantine.Met, 65, 0, ""},
		"one that does not speak":      {func(f *quarantine.Facts) { f.Results[2].Speaks = false }, quarantine.LookedFor, quarantine.NotMet, 90, 0, "quarantine.why.more-results"},
		"one that was inhibited":       {func(f *quarantine.Facts) { f.Results[2].Outcome = quarantine.Nothing }, quarantine.LookedFor, quarantine.NotMet, 90, 0, "quarantine.why.more-results"},
		"one from before the arrival":  {func(f *quarantine.Facts) { f.Results[0].Taken = on(-1) }, quarantine.LookedFor, quarantine.NotMet, 104, 0, "quarantine.why.more-results"},
		"detected at last":             {func(f *quarantine.Facts) { f.Results[2].Outcome = quarantine.Detected }, quarantine.LookedFor, quarantine.NotMet, 90, 62, "quarantine.why.detected"},
		"detected first":               {func(f *quarantine.Facts) { f.Results[0].Outcome = quarantine.Detected }, quarantine.LookedFor, quarantine.NotMet, 90, 5, "quarantine.why.detected"},
		"detected, not confirmed":      {func(f *quarantine.Facts) { f.Results[0].Outcome, f.Results[0].Settled = quarantine.Detected, on(30) }, quarantine.LookedFor, quarantine.NotMet, 104, 5, "quarantine.why.detected"},
		"detected at last, settled":    {func(f *quarantine.Facts) { f.Results[2].Outcome, f.Results[2].Settled = quarantine.Detected, on(70) }, quarantine.LookedFor, quarantine.NotMet, 132, 62, "quarantine.why.detected"},
		"detected, then not twice":     {func(f *quarantine.Facts) { f.Results = append(f.Results, detected(3, serpent)) }, quarantine.NoneFound, quarantine.NotMet, 90, 0, "quarantine.why.detected-stands"},
		"and so for what it looks for": {func(f *quarantine.Facts) { f.Results = append(f.Results, detected(3, serpent)) }, quarantine.LookedFor, quarantine.NotMet, 90, 3, "quarantine.why.detected"},
		"outside of the protocol":      {func(f *quarantine.Facts) { f.Results = append(f.Results, detected(80, "cryptosporidium-serpentis")) }, quarantine.NoneFound, quarantine.NotMet, 90, 0, "quarantine.why.detected-stands"},
		"detected before the arrival":  {func(f *quarantine.Facts) { f.Results = append(f.Results, detected(-80, serpent)) }, quarantine.NoneFound, quarantine.NotMet, 90, 0, "quarantine.why.detected-stands"},
		"detected in a pool": {func(f *quarantine.Facts) {
			f.Results = append(f.Results, detected(3, serpent))
			f.Results[7].Pool = true
		}, quarantine.NoneFound, quarantine.NotMet, 90, 0, "quarantine.why.detected-pool"},
		"detected, settled on a day": {func(f *quarantine.Facts) {
			f.Results = append(f.Results, detected(3, serpent))
			f.Results[7].Settled = on(55)
		}, quarantine.NoneFound, quarantine.Met, 55, 0, ""},
		"detected, settled tomorrow": {func(f *quarantine.Facts) {
			f.Results = append(f.Results, detected(3, serpent))
			f.Results[7].Settled = on(91)
		}, quarantine.NoneFound, quarantine.NotMet, 90, 0, "quarantine.why.detected-stands"},
		"a pool":                         {func(f *quarantine.Facts) { f.Results[2].Pool = true }, quarantine.LookedFor, quarantine.NotMet, 90, 0, "quarantine.why.more-results"},
		"the last one just young enough": {func(f *quarantine.Facts) { f.Today = on(92) }, quarantine.LookedFor, quarantine.Met, 65, 0, ""},
		"the last one too old":           {func(f *quarantine.Facts) { f.Today = on(93) }, quarantine.LookedFor, quarantine.NotMet, 93, 0, "quarantine.why.too-old"},
		"the last one at the lab":        {func(f *quarantine.Facts) { f.Results[2].Reported = 0 }, quarantine.LookedFor, quarantine.NotMet, 90, 0, "quarantine.why.more-results"},
		"its answer comes tomorrow":      {func(f *quarantine.Facts) { f.Results[2].Reported = on(91) }, quarantine.NoneAway, quarantine.NotMet, 90, 0, "quarantine.why.pending"},
		"a sample of before at the lab":  {func(f *quarantine.Facts) { f.Results[2].Reported, f.Results[2].Taken = 0, on(-5) }, quarantine.NoneAway, quarantine.NotMet, 90, 0, "quarantine.why.pending"},
		"lost in the post": {func(f *quarantine.Facts) {
			f.Results[2].Reported, f.Results[2].Void, f.Results[2].Outcome = 0, on(85), quarantine.Waiting
		}, quarantine.NoneAway, quarantine.Met, 85, 0, ""},

		"a faecal sample too soon": {func(f *quarantine.Facts) { f.Results[5].Taken = on(27) }, quarantine.Faecal, quarantine.NotMet, 94, 0, "quarantine.why.more-results"},
		"no faeces":                {func(f *quarantine.Facts) { f.Results[6].Faeces = false }, quarantine.Faecal, quarantine.NotMet, 90, 0, "quarantine.why.more-results"},

		"a check that left a stop out": {func(f *quarantine.Facts) { f.Checks[1].Full, f.Checks[1].Left = false, 1 }, quarantine.FullCheck, quarantine.NotMet, 90, 0, "quarantine.why.check-old"},
		"no full check":                {func(f *quarantine.Facts) { f.Checks = []quarantine.Check{{Day: on(80), Left: 2}} }, quarantine.FullCheck, quarantine.NotMet, 90, 0, "quarantine.why.check-part"},
		"no check":                     {func(f *quarantine.Facts) { f.Checks = nil }, quarantine.FullCheck, quarantine.NotMet, 90, 0, "quarantine.why.no-check"},
		"a check of eight days ago":    {func(f *quarantine.Facts) { f.Checks[1].Day = on(82) }, quarantine.FullCheck, quarantine.NotMet, 90, 0, "quarantine.why.check-old"},
		"a check of seven days ago":    {func(f *quarantine.Facts) { f.Checks[1].Day = on(83) }, quarantine.FullCheck, quarantine.Met, 83, 0, ""},
		"a matter for the vet":         {func(f *quarantine.Facts) { f.Open.Grave = true }, quarantine.NothingUp, quarantine.NotMet, 90, 0, "quarantine.why.open"},
		"nobody has looked":            {func(f *quarantine.Facts) { f.Open.Known = false }, quarantine.NothingUp, quarantine.CannotTell, 90, 0, "quarantine.why.no-check"},

		"one meal":                {func(f *quarantine.Facts) { f.Meals = f.Meals[:1] }, quarantine.Meals, quarantine.NotMet, 92, 0, "quarantine.why.more-meals"},
		"two of one day":          {func(f *quarantine.Facts) { f.Meals[1].Day = f.Meals[0].Day }, quarantine.Meals, quarantine.NotMet, 92, 0, "quarantine.why.more-meals"},
		"no meal":                 {func(f *quarantine.Facts) { f.Meals = nil }, quarantine.Meals, quarantine.NotMet, 102, 0, "quarantine.why.more-meals"},
		"a meal of yesterday":     {func(f *quarantine.Facts) { f.Meals[1].Day = on(89) }, quarantine.Meals, quarantine.NotMet, 91, 0, "quarantine.why.more-meals"},
		"the first of two lately": {func(f *quarantine.Facts) { f.Meals = []quarantine.Meal{{Day: on(85)}} }, quarantine.Meals, quarantine.NotMet, 97, 0, "quarantine.why.more-meals"},

		"95 of 100":           {func(f *quarantine.Facts) { f.Weights[1].Mass = grams(950) }, quarantine.Weighed, quarantine.Met, 84, 0, ""},
		"less":                {func(f *quarantine.Facts) { f.Weights[1].Mass = grams(949) }, quarantine.Weighed, quarantine.NotMet, 90, 0, "quarantine.why.weight-low"},
		"less in a fast":      {fasting(901, 0, 990), quarantine.Weighed, quarantine.Watch, 84, 0, "quarantine.why.weight-fasts"},
		"more than it costs":  {fasting(901, 0, 989), quarantine.Weighed, quarantine.NotMet, 90, 0, "quarantine.why.weight-above-line"},
		"a crumb more":        {func(f *quarantine.Facts) { fasting(901, 0, 990)(f); f.Weights[1].Mass.Milligrams-- }, quarantine.Weighed, quarantine.NotMet, 90, 0, "quarantine.why.weight-above-line"},
		"of a fast from then": {fasting(920, 1000, 1720), quarantine.Weighed, quarantine.Watch, 84, 0, "quarantine.why.weight-fasts"}, // .90 × .92 is left
		"and more than that":  {fasting(920, 1000, 1719), quarantine.Weighed, quarantine.NotMet, 90, 0, "quarantine.why.weight-above-line"},
		"a tenth in a fast":   {fasting(900, 0, 2000), quarantine.Weighed, quarantine.NotMet, 90, 0, "quarantine.why.weight-low"},
		"less in a fast that a vet should hear of": {func(f *quarantine.Facts) { fasting(940, 0, 2000)(f); f.Losing = true }, quarantine.Weighed, quarantine.NotMet, 90, 0, "quarantine.why.weight-low"},
		"less before the fast":                     {func(f *quarantine.Facts) { fasting(940, 0, 2000)(f); f.FastsSince = on(91) }, quarantine.Weighed, quarantine.NotMet, 90, 0, "quarantine.why.weight-low"},
		"the last one doubtful":                    {func(f *quarantine.Facts) { f.Weights[1].Doubtful, f.Weights[1].Scale = true, "Scale" }, quarantine.Weighed, quarantine.CannotTell, 90, 0, "quarantine.why.weight-doubtful"},
		"the only one doubtful":                    {func(f *quarantine.Facts) { f.Weights = f.Weights[1:]; f.Weights[0].Doubtful = true }, quarantine.Weighed, quarantine.CannotTell, 90, 0, "quarantine.why.weight-doubtful"},
		"the first one doubtful":                   {func(f *quarantine.Facts) { f.Weights[0].Doubtful = true }, quarantine.Weighed, quarantine.CannotTell, 90, 0, "quarantine.why.weight-doubtful"},
		"doubtful, then a sound one": {func(f *quarantine.Facts) {
			f.Weights = append(f.Weights, quarantine.Weight{Entry: entry(33), Day: on(83), Mass: grams(500), Doubtful: true})
		}, quarantine.Weighed, quarantine.Met, 84, 0, ""},
		"a doubtful one to come": {func(f *quarantine.Facts) {
			f.Weights = append(f.Weights, quarantine.Weight{Entry: entry(33), Day: on(91), Mass: grams(500), Doubtful: true})
		}, quarantine.Weighed, quarantine.Met, 84, 0, ""},
		"one weight":                 {func(f *quarantine.Facts) { f.Weights = f.Weights[:1] }, quarantine.Weighed, quarantine.CannotTell, 90, 0, "quarantine.why.one-weight"},
		"no weight":                  {func(f *quarantine.Facts) { f.Weights = nil }, quarantine.Weighed, quarantine.CannotTell, 90, 0, "quarantine.why.no-weight"},
		"an old weight":              {func(f *quarantine.Facts) { f.Weights[1].Day = on(59) }, quarantine.Weighed, quarantine.NotMet, 90, 0, "quarantine.why.weight-old"},
		"a weight just young enough": {func(f *quarantine.Facts) { f.Weights[1].Day = on(60) }, quarantine.Weighed, quarantine.Met, 60, 0, ""},
		"in pieces":                  {func(f *quarantine.Facts) { f.Sheds[0].Whole = false }, quarantine.WholeShed, quarantine.NotMet, 90, 0, "quarantine.why.no-shed"},
		"a shed from before":         {func(f *quarantine.Facts) { f.Sheds[0].Day = on(-1) }, quarantine.WholeShed, quarantine.NotMet, 90, 0, "quarantine.why.no-shed"},
	} {
		f := whole()
		c.change(&f)
		g := quarantine.Judge(tables, protocol(tables, "python"), f)
		l := line(t, g, c.item)
		again := model.Day(0)
		if c.again > 0 {
			again = on(c.again)
		}
		if l.State != c.state || l.Earliest != on(c.earliest) || l.Again != again {
			t.Errorf("%s: %s, earliest day %d, again %d", name, l.State, l.Earliest-arrived, l.Again)
		}
		if keys := reasons(l); c.reason == "" && len(keys) > 0 && c.item != quarantine.MiteFree && c.item != quarantine.NothingUp || c.reason != "" && (len(keys) == 0 || keys[0] != c.reason) {
			t.Errorf("%s: %v", name, keys)
		}
		if met := c.state.Met(); met != (l.Since > 0) || !met && (g.Met || !slices.ContainsFunc(g.Unmet(), func(u quarantine.Line) bool { return u.Item == c.item })) {
			t.Errorf("%s: since %d, the whole list %v", name, l.Since, g.Met)
		}
	}
}

// No fast was measured that is longer than 168 days, counted from two weeks after the last
// meal kept (seen: J Exp Biol 210(23):vii, comment on McCue 2007): beyond these 182 days
// none excuses a loss, and the vet is to be told. Of one that never kept a meal here they
// count from the arrival.
func TestAFastLongerThanAnyThatWasMeasured(t *testing.T) {
	tables := load(t)
	const told = "quarantine.why.long-fast"
	for name, c := range map[string]struct {
		kept, today int // kept 0: no meal is known
		meals       []string
		weight      quarantine.State
	}{
		"as long as was measured":     {-92, 90, nil, quarantine.Watch},
		"a day longer":                {-93, 90, []string{told}, quarantine.NotMet},
		"no meal known, no longer":    {0, 182, nil, quarantine.Watch},
		"no meal known, and longer":   {0, 183, []string{told}, quarantine.NotMet},
		"a meal to come changes none": {300, 183, []string{told}, quarantine.NotMet},
	} {
		f := whole()
		fasting(940, 0, 2000)(&f)
		f.Today, f.Weights[1].Day = on(c.today), on(c.today)
		if c.kept != 0 {
			f.Kept = on(c.kept)
		}
		g := quarantine.Judge(tables, protocol(tables, "python"), f)
		if l := line(t, g, quarantine.Meals); !slices.Equal(reasons(l), c.meals) || l.State != quarantine.Met {
			t.Errorf("%s: the meals: %s, %v", name, l.State, reasons(l))
		}
		l := line(t, g, quarantine.Weighed)
		if l.State != c.weight || slices.Contains(reasons(l), told) != (c.meals != nil) || l.Undated() != (c.weight == quarantine.NotMet) {
			t.Errorf("%s: the weight: %s, %v", name, l.State, reasons(l))
		}
		f.Meals = nil
		if keys := reasons(line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.Meals)); !slices.Equal(keys, append(slices.Clone(c.meals), "quarantine.why.more-meals")) {
			t.Errorf("%s: meals are missing: %v", name, keys)
		}
	}
}

// The line with the latest day holds the release; one that is met today and will be
// too old by then is stale.
func TestWhatHoldsTheRelease(t *testing.T) {
	tables := load(t)
	f := whole()
	f.Restarts, f.Sheds = []quarantine.Restart{{Day: on(50), Name: "Nettle"}}, nil
	g := quarantine.Judge(tables, protocol(tables, "python"), f)
	if holds := g.Holds(); g.Earliest != on(140) || len(holds) != 1 || holds[0].Item != quarantine.InRoom || len(g.Unmet()) != 2 {
		t.Errorf("earliest day %d, held by %+v", g.Earliest-arrived, holds)
	}
	for item, stale := range map[quarantine.ItemID]bool{quarantine.LookedFor: true, quarantine.FullCheck: true, quarantine.Weighed: true, quarantine.Meals: false, quarantine.InRoom: false} {
		if g.Stale(line(t, g, item)) != stale {
			t.Errorf("%s: stale %v", item, !stale)
		}
	}
	g.Earliest = line(t, g, quarantine.FullCheck).Until
	if g.Stale(line(t, g, quarantine.FullCheck)) {
		t.Error("stale on the last day on which it is met")
	}
}

// Either of two things is enough where the protocol says so; what is not asked has no
// line.
func TestWhatIsAsked(t *testing.T) {
	tables := load(t)
	p := quarantine.Protocol{ID: "own", Days: 10, Within: 30, Weight: 95, Watch: 90, For: []knowledge.Asked{
		{Agents: []knowledge.AgentID{"cryptosporidium-serpentis", "cryptosporidium"}, NotDetected: 2, Apart: 14}, {Agents: []knowledge.AgentID{ferla}}}}
	f := whole()
	f.Results = []quarantine.Result{clear(1, "cryptosporidium", 60), clear(2, "cryptosporidium-serpentis", 74)}
	g := quarantine.Judge(tables, p, f)
	var items []quarantine.ItemID
	for _, l := range g.Lines {
		items = append(items, l.Item)
	}
	if !slices.Equal(items, []quarantine.ItemID{quarantine.InRoom, quarantine.LookedFor, quarantine.NoneFound, quarantine.FullCheck, quarantine.NothingUp, quarantine.Weighed, quarantine.NoneAway}) {
		t.Errorf("asked: %v", items)
	}
	if l := line(t, g, quarantine.LookedFor); l.State != quarantine.Met || l.Since != on(77) {
		t.Errorf("either of two: %+v", l)
	}
}

// drawn are facts of a newcomer somewhere on its way.
func drawn(t *rapid.T) quarantine.Facts {
	day := rapid.IntRange(-5, 130)
	f := quarantine.Facts{Today: on(rapid.IntRange(0, 120).Draw(t, "today")), Arrived: arrived, OfferEvery: 10}
	for i := range rapid.IntRange(0, 8).Draw(t, "results") {
		f.Results = append(f.Results, drawnResult(t, i))
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "restarts") {
		f.Restarts = append(f.Restarts, quarantine.Restart{Day: on(day.Draw(t, "came in")), Stay: model.StayID{ID: id(i)}, Name: "Nettle"})
		if rapid.Bool().Draw(t, "near") {
			r := &f.Restarts[i]
			r.Positive, r.Agent = id(50+i), rapid.SampledFrom([]knowledge.AgentID{serpent, ferla}).Draw(t, "it had")
			if rapid.Bool().Draw(t, "a figure is known") {
				r.Speaks = r.Day + 28
			}
		}
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "entries") {
		f.Checks = append(f.Checks, quarantine.Check{Entry: entry(i), Day: on(day.Draw(t, "check")), Full: rapid.Bool().Draw(t, "full"), Left: i})
		f.Meals = append(f.Meals, quarantine.Meal{Entry: entry(i), Day: on(day.Draw(t, "meal"))})
		f.Weights = append(f.Weights, quarantine.Weight{Entry: entry(i), Day: on(day.Draw(t, "weight")), Mass: grams(rapid.Int64Range(800, 1200).Draw(t, "grams"))})
		f.Sheds = append(f.Sheds, quarantine.Shed{Entry: entry(i), Day: on(day.Draw(t, "shed")), Whole: rapid.Bool().Draw(t, "whole")})
	}
	f.Open = quarantine.Open{Known: rapid.Bool().Draw(t, "known"), Since: arrived}
	f.Mites = quarantine.Mites{Days: 42}
	return f
}

func drawnResult(t *rapid.T, i int) quarantine.Result {
	r := quarantine.Result{Sample: sample(i + 1), Of: rapid.SampledFrom([]knowledge.AgentID{serpent, ferla, knowledge.FaecalAgent}).Draw(t, "of"), Taken: on(rapid.IntRange(-5, 130).Draw(t, "taken")),
		Speaks: rapid.Bool().Draw(t, "speaks"), Faeces: rapid.Bool().Draw(t, "faeces"), Pool: rapid.IntRange(0, 3).Draw(t, "pool") == 0}
	r.Outcome = rapid.SampledFrom([]quarantine.Outcome{quarantine.Waiting, quarantine.NotDetected, quarantine.NotDetected, quarantine.Detected, quarantine.Nothing}).Draw(t, "outcome")
	if r.Outcome != quarantine.Waiting {
		r.Reported = r.Taken + model.Day(rapid.IntRange(0, 20).Draw(t, "took"))
	}
	if r.Outcome == quarantine.Detected && rapid.Bool().Draw(t, "settled") {
		r.Settled = r.Reported + model.Day(rapid.IntRange(0, 20).Draw(t, "settled after"))
	}
	return r
}

func drawnProtocol(t *rapid.T, tables *knowledge.Tables) quarantine.Protocol {
	return rapid.SampledFrom(tables.Protocols()).Draw(t, "protocol")
}

// One more "not detected" never moves the release to a later day, and never undoes a
// line that is met.
func TestOneMoreNotDetectedNeverMovesItLater(t *testing.T) {
	tables := load(t)
	rapid.Check(t, func(t *rapid.T) {
		p, f := drawnProtocol(t, tables), drawn(t)
		before := quarantine.Judge(tables, p, f)
		one := drawnResult(t, 100)
		one.Taken = on(rapid.IntRange(0, int(f.Today-arrived)).Draw(t, "taken now"))
		one.Reported = min(f.Today, one.Taken+model.Day(rapid.IntRange(0, 9).Draw(t, "took now")))
		one.Outcome = quarantine.NotDetected
		f.Results = append(slices.Clone(f.Results), one)
		after := quarantine.Judge(tables, p, f)
		if after.Earliest > max(f.Today, before.Earliest) || before.Met && !after.Met {
			t.Fatalf("from day %d to %d", before.Earliest-arrived, after.Earliest-arrived)
		}
		for i := range before.Lines {
			if a, b := before.Lines[i], after.Lines[i]; b.Earliest > max(f.Today, a.Earliest) || a.State.Met() && !b.State.Met() {
				t.Fatalf("%s: %+v, then %+v", a.Item, a, b)
			}
		}
	})
}

// Where samples are asked for, nothing is told of what they would say before one has said
// something; where none are asked for, there is nothing to wait for.
func TestNothingIsToldBeforeASampleHasSaidSomething(t *testing.T) {
	tables := load(t)
	none := protocol(tables, "python")
	none.For, none.Faecal = nil, 0
	faeces := none
	faeces.Faecal = 2
	zero := none
	zero.For = []knowledge.Asked{{Agents: []knowledge.AgentID{serpent}}}
	told := func(change func(r *quarantine.Result)) []quarantine.Result {
		r := clear(1, serpent, 5)
		change(&r)
		return []quarantine.Result{r}
	}
	for name, c := range map[string]struct {
		p           quarantine.Protocol
		results     []quarantine.Result
		found, away quarantine.State
	}{
		"no sample":                  {protocol(tables, "python"), nil, quarantine.CannotTell, quarantine.CannotTell},
		"no faecal sample":           {faeces, nil, quarantine.CannotTell, quarantine.CannotTell},
		"none is asked for":          {none, nil, quarantine.Met, quarantine.Met},
		"none of it is asked for":    {zero, nil, quarantine.Met, quarantine.Met},
		"an answer":                  {protocol(tables, "python"), told(func(*quarantine.Result) {}), quarantine.Met, quarantine.Met},
		"at the lab":                 {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Reported, r.Outcome = 0, quarantine.Waiting }), quarantine.CannotTell, quarantine.NotMet},
		"at the lab, none asked":     {none, told(func(r *quarantine.Result) { r.Reported, r.Outcome = 0, quarantine.Waiting }), quarantine.Met, quarantine.NotMet},
		"answered tomorrow":          {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Reported = on(91) }), quarantine.CannotTell, quarantine.NotMet},
		"answered today":             {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Reported = on(90) }), quarantine.Met, quarantine.Met},
		"of before the arrival":      {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Taken = on(-1) }), quarantine.CannotTell, quarantine.CannotTell},
		"of the arrival":             {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Taken = on(0) }), quarantine.Met, quarantine.Met},
		"inhibited":                  {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Outcome = quarantine.Nothing }), quarantine.CannotTell, quarantine.Met},
		"it does not speak":          {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Speaks = false }), quarantine.CannotTell, quarantine.Met},
		"lost":                       {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Reported, r.Outcome, r.Void = 0, quarantine.Waiting, on(20) }), quarantine.CannotTell, quarantine.CannotTell},
		"lost tomorrow":              {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Reported, r.Outcome, r.Void = 0, quarantine.Waiting, on(91) }), quarantine.CannotTell, quarantine.NotMet},
		"detected":                   {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Outcome = quarantine.Detected }), quarantine.NotMet, quarantine.Met},
		"detected before it came":    {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Outcome, r.Taken = quarantine.Detected, on(-9) }), quarantine.NotMet, quarantine.CannotTell},
		"detected, and put right":    {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Outcome, r.Settled = quarantine.Detected, on(30) }), quarantine.Met, quarantine.Met},
		"detected in what is silent": {protocol(tables, "python"), told(func(r *quarantine.Result) { r.Outcome, r.Settled, r.Speaks = quarantine.Detected, on(30), false }), quarantine.Met, quarantine.Met},
	} {
		t.Run(name, func(t *testing.T) {
			f := whole()
			f.Results = c.results
			g := quarantine.Judge(tables, c.p, f)
			found, away := line(t, g, quarantine.NoneFound), line(t, g, quarantine.NoneAway)
			if found.State != c.found || away.State != c.away {
				t.Fatalf("what was detected: %s, want %s; what is away: %s, want %s", found.State, c.found, away.State, c.away)
			}
			if found.State == quarantine.CannotTell && (found.Since != 0 || found.Earliest != on(90) || !slices.Equal(reasons(found), []string{"quarantine.why.no-result"})) {
				t.Errorf("what was detected: %+v", found)
			}
			if away.State == quarantine.CannotTell && (away.Since != 0 || away.Earliest != on(90) || !slices.Equal(reasons(away), []string{"quarantine.why.no-sample"})) {
				t.Errorf("what is away: %+v", away)
			}
		})
	}
}

// A result that says nothing is named where results are missing, and not where they are
// there.
func TestAResultThatSaysNothingIsNamed(t *testing.T) {
	tables := load(t)
	f := whole()
	f.Results = append(f.Results, clear(6, serpent, 50))
	f.Results[7].Outcome = quarantine.Nothing
	if keys := reasons(line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.LookedFor)); slices.Contains(keys, "quarantine.why.nothing") {
		t.Errorf("nothing is missing: %v", keys)
	}
	f.Results[2].Outcome = quarantine.Nothing
	l := line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.LookedFor)
	i := slices.IndexFunc(l.Reasons, func(r model.Label) bool { return r.Key == "quarantine.why.nothing" })
	if i < 0 || l.Reasons[i].Gaps["Count"] != model.CountGap(2) {
		t.Errorf("two say nothing: %+v", l.Reasons)
	}
}

// What does not go through a room begins no day again, and makes the line that asks for
// it, or else the line of what was detected, be watched. Source: common practice, no
// source.
func TestWhatDoesNotGoThroughARoom(t *testing.T) {
	tables := load(t)
	python, none := protocol(tables, "python"), protocol(tables, "python")
	none.Faecal = 0
	swabs := python
	swabs.For = []knowledge.Asked{{Agents: []knowledge.AgentID{serpent}, NotDetected: 2, Apart: 42}, {Agents: []knowledge.AgentID{ferla}}}
	for name, c := range map[string]struct {
		p     quarantine.Protocol
		agent knowledge.AgentID
		day   int
		still bool
		item  quarantine.ItemID // that is watched; none where nothing is told
	}{
		"worms":                       {python, knowledge.FaecalAgent, 50, false, quarantine.Faecal},
		"worms, in one room still":    {python, knowledge.FaecalAgent, 90, true, quarantine.Faecal},
		"worms, and no faecal sample": {none, knowledge.FaecalAgent, 50, false, quarantine.NoneFound},
		"worms, on the arrival":       {python, knowledge.FaecalAgent, 0, false, quarantine.Faecal},
		"worms, to come":              {python, knowledge.FaecalAgent, 91, false, ""},
		"worms, before it came":       {python, knowledge.FaecalAgent, -1, false, ""},
		"another thing":               {python, "cryptosporidium", 50, false, quarantine.NoneFound},
		"one that is looked for":      {python, serpent, 50, false, quarantine.LookedFor},
		"one that is asked for in no": {swabs, ferla, 50, false, quarantine.NoneFound},
	} {
		t.Run(name, func(t *testing.T) {
			want := quarantine.Judge(tables, c.p, whole())
			f := whole()
			f.Restarts = []quarantine.Restart{{Day: on(c.day), Positive: id(70), NearTo: "Nettle", Agent: c.agent, Still: c.still, Confined: true}}
			g := quarantine.Judge(tables, c.p, f)
			if !want.Met || !g.Met || g.Earliest != want.Earliest || g.Undated() {
				t.Fatalf("met %v, earliest day %d, want %d", g.Met, g.Earliest-arrived, want.Earliest-arrived)
			}
			for i, l := range g.Lines {
				watched := l.Item == c.item && (l.Item != quarantine.LookedFor || l.Agents[0] == c.agent)
				if !watched {
					if !reflect.DeepEqual(l, want.Lines[i]) {
						t.Errorf("%s: %+v, want %+v", l.Item, l, want.Lines[i])
					}
					continue
				}
				if l.State != quarantine.Watch || l.Since != want.Lines[i].Since || !slices.Contains(reasons(l), "quarantine.why.beside") || !slices.Contains(l.On, id(70)) {
					t.Errorf("%s: %+v", l.Item, l)
				}
			}
		})
	}
}

// A line that is not met stays so, however what was detected in another goes about.
func TestWhatDoesNotGoThroughARoomMeetsNothing(t *testing.T) {
	tables := load(t)
	f := whole()
	f.Results = f.Results[:6]
	f.Restarts = []quarantine.Restart{{Day: on(60), Positive: id(71), NearTo: "Moss", Agent: knowledge.FaecalAgent, Confined: true}, {Day: on(50), Positive: id(70), NearTo: "Nettle", Agent: knowledge.FaecalAgent, Confined: true}}
	l := line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.Faecal)
	if n := len(l.On); l.State != quarantine.NotMet || l.On[n-2] != id(70) || l.On[n-1] != id(71) {
		t.Errorf("%+v", l)
	}
}

// Where samples miss a thing often, the line says in how many of those that had it they
// found it. Source of the figure of ferlaviruses: Flach et al. 2018, J Zoo Wildl Med
// 49(4) (abstract).
func TestSamplesThatMissMuchAreNamed(t *testing.T) {
	tables := load(t)
	f := whole()
	f.Results[3].Weak = true
	g := quarantine.Judge(tables, protocol(tables, "python"), f)
	if !g.Met {
		t.Fatalf("not met: %+v", g.Unmet())
	}
	for _, l := range g.Lines {
		i := slices.IndexFunc(l.Reasons, func(r model.Label) bool { return r.Key == "quarantine.why.weak" })
		if told := l.Item == quarantine.LookedFor && l.Agents[0] == ferla; told != (i >= 0) {
			t.Errorf("%s of %v: %v", l.Item, l.Agents, reasons(l))
		} else if told && (l.Reasons[i].Gaps["Found"] != model.CountGap(2) || l.Reasons[i].Gaps["Of"] != model.CountGap(5)) {
			t.Errorf("%+v", l.Reasons[i])
		}
	}
}

// Why mites are watched for so long is said before the first look too.
func TestALongWatchIsExplainedBeforeTheFirstLook(t *testing.T) {
	tables := load(t)
	for days, cool := range map[int]bool{77: true, 42: false} {
		f := whole()
		f.Mites = quarantine.Mites{Days: days, Cool: cool}
		l := line(t, quarantine.Judge(tables, protocol(tables, "python"), f), quarantine.MiteFree)
		if slices.Contains(reasons(l), "quarantine.why.mites-cool") != cool || l.Want != days {
			t.Errorf("%d days: %v", days, reasons(l))
		}
	}
}

// What lies after the day counts nothing, and the order in which facts are given
// neither.
func TestTheFutureAndTheOrderCountNothing(t *testing.T) {
	tables := load(t)
	rapid.Check(t, func(t *rapid.T) {
		p, f := drawnProtocol(t, tables), drawn(t)
		want := quarantine.Judge(tables, p, f)
		known := f
		known.Results = nil
		for _, r := range f.Results {
			if r.Reported > f.Today {
				r.Reported, r.Outcome = 0, quarantine.Waiting
			}
			if r.Settled > f.Today {
				r.Settled = 0
			}
			if r.Taken <= f.Today {
				known.Results = append(known.Results, r)
			}
		}
		known.Restarts = slices.DeleteFunc(slices.Clone(f.Restarts), func(r quarantine.Restart) bool { return r.Day > f.Today })
		known.Checks = slices.DeleteFunc(slices.Clone(f.Checks), func(c quarantine.Check) bool { return c.Day > f.Today })
		known.Meals = slices.DeleteFunc(slices.Clone(f.Meals), func(m quarantine.Meal) bool { return m.Day > f.Today })
		known.Weights = slices.DeleteFunc(slices.Clone(f.Weights), func(w quarantine.Weight) bool { return w.Day > f.Today })
		known.Sheds = slices.DeleteFunc(slices.Clone(f.Sheds), func(s quarantine.Shed) bool { return s.Day > f.Today })
		r := rand.New(rand.NewSource(rapid.Int64().Draw(t, "order")))
		shuffle(r, known.Results)
		shuffle(r, known.Restarts)
		shuffle(r, known.Checks)
		shuffle(r, known.Meals)
		shuffle(r, known.Weights)
		shuffle(r, known.Sheds)
		if got := quarantine.Judge(tables, p, known); !reflect.DeepEqual(got, want) {
			t.Fatalf("%+v\nwant %+v", got, want)
		}
		if got, want := quarantine.Plan(tables, known, want), quarantine.Plan(tables, f, want); !reflect.DeepEqual(got, want) {
			t.Fatalf("the plan: %+v\nwant %+v", got, want)
		}
	})
}

func shuffle[T any](r *rand.Rand, all []T) {
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
}

// Somebody who comes in never makes the release earlier, and the days begin on that
// day.
func TestSomebodyWhoComesInNeverMakesItEarlier(t *testing.T) {
	tables := load(t)
	rapid.Check(t, func(t *rapid.T) {
		p, f := drawnProtocol(t, tables), drawn(t)
		before := quarantine.Judge(tables, p, f)
		day := on(rapid.IntRange(0, 125).Draw(t, "comes in"))
		f.Restarts = append(slices.Clone(f.Restarts), quarantine.Restart{Day: day, Name: "Moss"})
		after := quarantine.Judge(tables, p, f)
		if after.Earliest < before.Earliest || after.Met && !before.Met {
			t.Fatalf("from day %d to %d", before.Earliest-arrived, after.Earliest-arrived)
		}
		if day <= f.Today && after.Lines[0].Earliest < day+model.Day(p.Days) {
			t.Fatalf("day %d", after.Lines[0].Earliest-arrived)
		}
	})
}

// What does not go through a room never moves a day, and undoes no line.
func TestWhatDoesNotGoThroughARoomMovesNoDay(t *testing.T) {
	tables := load(t)
	rapid.Check(t, func(t *rapid.T) {
		p, f := drawnProtocol(t, tables), drawn(t)
		before := quarantine.Judge(tables, p, f)
		f.Restarts = append(slices.Clone(f.Restarts), quarantine.Restart{Day: on(rapid.IntRange(-3, 125).Draw(t, "day")), Positive: id(70), NearTo: "Moss", Confined: true, Still: rapid.Bool().Draw(t, "still"),
			Agent: rapid.SampledFrom([]knowledge.AgentID{serpent, knowledge.FaecalAgent, "cryptosporidium"}).Draw(t, "agent")})
		after := quarantine.Judge(tables, p, f)
		if after.Earliest != before.Earliest || after.Met != before.Met || after.Undated() != before.Undated() {
			t.Fatalf("from day %d to %d", before.Earliest-arrived, after.Earliest-arrived)
		}
	})
}

// A met line says since when, and was not met on the day before by what was known
// then.
func TestALineTurnedTrueOnItsDay(t *testing.T) {
	tables := load(t)
	rapid.Check(t, func(t *rapid.T) {
		p, f := drawnProtocol(t, tables), drawn(t)
		for _, l := range quarantine.Judge(tables, p, f).Lines {
			if !l.State.Met() || l.Since == arrived || l.Item == quarantine.NothingUp {
				continue
			}
			then := f
			then.Today = l.Since - 1
			for _, o := range quarantine.Judge(tables, p, then).Lines {
				if o.Item == l.Item && slices.Equal(o.Agents, l.Agents) && o.State.Met() {
					t.Fatalf("%s: since day %d, and met the day before", l.Item, l.Since-arrived)
				}
			}
		}
	})
}

// A line rests on as much as it asks for and no more; samples that do not speak are
// named where they are missing.
func TestWhatALineRestsOn(t *testing.T) {
	tables := load(t)
	f := whole()
	if keys := reasons(line(t, quarantine.Judge(tables, protocol(tables, "long"), f), quarantine.LookedFor)); slices.Contains(keys, "quarantine.why.silent") {
		t.Errorf("all of them speak: %v", keys)
	}
	f.Meals = append(f.Meals, quarantine.Meal{Entry: entry(22), Day: on(40)})
	f.Sheds = append(f.Sheds, quarantine.Shed{Entry: entry(39), Day: on(40), Whole: true})
	f.Restarts = []quarantine.Restart{{Day: on(9), Stay: model.StayID{ID: id(8)}, Name: "Moss"}, {Day: on(9), Stay: model.StayID{ID: id(7)}, Name: "Nettle"}}
	f.Results[2].Speaks = false
	g := quarantine.Judge(tables, protocol(tables, "python"), f)
	for item, want := range map[quarantine.ItemID][]model.ID{quarantine.Meals: {id(20), id(21)}, quarantine.WholeShed: {id(39)}, quarantine.InRoom: {id(7)}} {
		if l := line(t, g, item); !slices.Equal(l.On, want) {
			t.Errorf("%s rests on %v, want %v", item, l.On, want)
		}
	}
	if keys := reasons(line(t, g, quarantine.LookedFor)); !slices.Contains(keys, "quarantine.why.silent") {
		t.Errorf("one does not speak: %v", keys)
	}
}
