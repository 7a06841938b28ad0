// Package papertest has an invented animal and plain wording for the tests of
// papers.
package papertest

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"testing"
	"time"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/chances"
	"coilward/model/evidence"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// Tables are the embedded tables.
func Tables(t testing.TB) *knowledge.Tables {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	return tables
}

func at(year int, month time.Month, day int) model.Moment {
	return model.MomentOf(time.Date(year, month, day, 18, 20, 0, 0, time.FixedZone("Europe/Berlin", 3600)))
}

func exactly(m model.Moment) model.Date { return model.Date{Day: m.Day(), Precision: model.ToDay} }

// number makes an id that ends in n.
func number(n int) model.ID { return model.ID{15: byte(n), 14: byte(n >> 8), 0: 1} }

// Bramble is an invented animal with something of everything in her records.
func Bramble(t testing.TB) paper.Facts {
	f := facts{paper.Facts{
		Animal: animals.Animal{Name: "Bramble", Code: "M-09", Species: "python-regius", Sex: animals.Female, SexHow: animals.HowBreeder,
			Hatched: model.Date{Day: model.NewDay(2023, 6, 1), Precision: model.ToMonth}, Morph: "wild colour", Source: animals.SourceBred,
			Origin: "bred at the Otter Mill", From: "the mill's former keeper", Since: exactly(at(2026, 10, 14)),
			Chip:   animals.Chip{Digits: "276098102204417", Standard: animals.ChipISO, Site: animals.SiteNeck, LastRead: exactly(at(2027, 3, 3))},
			Length: animals.Measured{SnoutVent: model.Length{Tenths: 11200}, On: exactly(at(2027, 2, 2))}, Status: animals.Kept},
		Issued: at(2027, 3, 3), Version: "1.0.0", Tables: Tables(t), Unknown: map[string]int{"swab": 2},
	}}
	days := []model.Moment{at(2026, 10, 14), at(2026, 11, 1), at(2026, 12, 5), at(2026, 12, 20), at(2027, 1, 9), at(2027, 2, 2), at(2027, 2, 24), at(2027, 3, 3)}
	for i, d := range days {
		f.Checks = append(f.Checks, f.checkOn(i, d))
	}
	f.addProblems(days)
	f.addEntries()
	f.Portrait = paper.Photo{ID: "portrait", JPEG: Picture(t, 620, 620), Width: 620, Height: 620, Day: at(2027, 3, 2).Day()}
	f.Photos = []paper.Photo{
		{ID: "one", JPEG: Picture(t, 760, 507), Width: 760, Height: 507, Day: at(2027, 3, 2).Day(), Problem: model.ProblemID{ID: number(102)}},
		{ID: "two", JPEG: Picture(t, 507, 761), Width: 507, Height: 761, Day: at(2027, 3, 3).Day(), Pose: "vent"}}
	f.AllPhotos = 2
	f.Entries, f.First, f.Last = 61, at(2026, 10, 14).Day(), at(2027, 3, 3).Day()
	return f.Facts
}

// facts is Bramble's records while they are put together.
type facts struct{ paper.Facts }

func (f *facts) checkOn(i int, d model.Moment) paper.Checked {
	c := paper.Checked{ID: model.EntryID{ID: number(i + 1)}, At: d, By: "Mira"}
	c.Begun = d
	c.Finished = d
	c.Finished.UTC += 600
	for k, s := range f.Tables.Stops() {
		if s.Way == knowledge.Noted {
			continue
		}
		look := exam.Felt
		switch {
		case s.ID == "mouth" || s.ID == "airway":
			look = exam.NotLooked
		case s.ID == "vent" && i == 7:
			look = exam.LeftToVet
		case k%7 == 3 && i > 5:
			look = exam.NotLooked
		case s.Way == knowledge.Seen:
			look = exam.Seen
		}
		c.Stops = append(c.Stops, exam.Answered{Stop: s.ID, Look: look, At: d})
	}
	c.Verdict.Tables, c.Verdict.Day = f.Tables.Hash(), d.Day()
	return c
}

// addProblem adds a problem with a look at each of the checks given, judged so.
func (f *facts) addProblem(id int, stop knowledge.StopID, what knowledge.FindingID, place body.Place, level knowledge.Level, again int, looks ...exam.Glimpse) {
	p := exam.StoredProblem{ID: model.ProblemID{ID: number(id)}, Problem: exam.Problem{Stop: stop, What: what}}
	p.Baseline = level == knowledge.NoAction
	for _, g := range looks {
		g.Place = place
		p.Glimpses = append(p.Glimpses, g)
		for i := range f.Checks {
			c := &f.Checks[i]
			if c.ID != g.Check || !g.Standing.Present() {
				continue
			}
			c.Verdict.Signs = append(c.Verdict.Signs, exam.Sign{Problem: p.ID, Stop: stop, What: what, Grade: g.Grade, Standing: g.Standing, Seen: g.At.Day()})
			c.Verdict.Reasons = append(c.Verdict.Reasons, exam.Reason{Rule: f.Tables.Rules()[0].ID, Level: level, Again: again,
				Signs: []int{len(c.Verdict.Signs) - 1}, IfWorse: knowledge.VetWithinDays, Source: "common practice, no source"})
		}
	}
	f.Problems = append(f.Problems, p)
}

func (f *facts) addProblems(days []model.Moment) {
	look := func(check int, standing exam.Standing, grade exam.Grade, tenths int64) exam.Glimpse {
		return exam.Glimpse{Check: f.Checks[check].ID, At: days[check], Standing: standing, Grade: grade, Size: model.Length{Tenths: tenths}}
	}
	trunk := func(along, angle int, region body.RegionID) body.Place {
		return body.Place{Part: body.Trunk, Along: along, Angle: angle, Region: region}
	}
	f.addProblem(101, "tail", "stuck-shed", body.Place{Part: body.Tail, Along: 4000, Angle: -60, Region: "tail.right"}, knowledge.LookAgain, 7,
		look(6, exam.New, exam.Slight, 60), look(7, exam.Same, exam.Slight, 60))
	f.addProblem(102, "snout", "nose-rub", body.Place{Part: body.Head, View: body.HeadAbove, X: 700, Y: 5000, Region: "snout"}, knowledge.LookAgain, 14,
		look(5, exam.New, exam.Marked, 40), look(6, exam.Better, exam.Marked, 30), look(7, exam.Better, exam.Slight, 20))
	f.addProblem(103, "belly", "pink-belly", trunk(7100, 180, "hind.belly"), knowledge.VetWithinDays, 0,
		look(2, exam.New, exam.Slight, 200), look(3, exam.Same, exam.Slight, 200), look(4, exam.Same, exam.Slight, 220), look(5, exam.Same, exam.Slight, 220), look(6, exam.Same, exam.Slight, 220), look(7, exam.Worse, exam.Marked, 250))
	f.addProblem(104, "skin", "scar", trunk(5800, 0, "lower-mid.back"), knowledge.NoAction, 0,
		look(0, exam.New, exam.Slight, 140), look(7, exam.Same, exam.Slight, 140))
	f.addProblem(105, "skin", "mites", body.Place{}, knowledge.VetWithinDays, 0,
		look(0, exam.New, exam.Severe, 0), look(1, exam.Better, exam.Slight, 0), look(2, exam.Gone, exam.Slight, 0))
	f.addProblem(106, "mouth", "bleeding", body.Place{Part: body.Mouth, View: body.OpenMouth, X: 5000, Y: 3000, Region: "palate"}, knowledge.EmergencyToday, 0,
		look(3, exam.New, exam.Marked, 20), look(4, exam.Gone, exam.Slight, 0))
}

func (f *facts) addEntries() {
	later := func(m model.Moment, days int) model.Moment {
		m.UTC += int64(days) * 86400
		return m
	}
	for i, g := range []int64{1342, 1318, 1309, 1331, 1402, 1350, 1361, 1372, 1389, 1394, 1466, 1408, 1416} {
		w := care.Weight{Mass: model.Grams(g), Gut: care.GutBeforeMeal}
		if i == 4 || i == 10 {
			w.Gut = care.GutFed
		}
		f.Weights = append(f.Weights, paper.Dated[care.Weight]{At: later(at(2026, 10, 14), i*11), Body: w})
	}
	for i := range 12 {
		m := care.Meal{Prey: care.Rat, Size: care.Weaner, State: care.Thawed, Each: model.Grams(80 + int64(i)), Count: 1 + i/11, Outcome: care.Took}
		if i == 0 || i == 2 {
			m.Outcome = care.Refused
		}
		f.Meals = append(f.Meals, paper.Dated[care.Meal]{At: later(at(2026, 10, 25), i*10), Body: m})
	}
	for i, s := range []care.Shed{{Skin: care.Whole, StuckEyeCaps: care.No, StuckTailTip: care.No}, {Skin: care.Whole},
		{Skin: care.InPieces, StuckEyeCaps: care.No, StuckTailTip: care.Yes, Beside: care.Beside{Note: "a ring was left on the tail"}}} {
		f.Sheds = append(f.Sheds, paper.Dated[care.Shed]{At: later(at(2026, 11, 27), i*44), Body: s})
	}
	f.Waste = []paper.Dated[care.Waste]{{At: at(2027, 1, 30), Body: care.Waste{Faeces: []care.Trait{care.Formed}, Urates: []care.Trait{care.White, care.HardLumps}}}}
	f.MiteLooks = []paper.Dated[care.MiteLook]{
		{At: at(2026, 10, 14), Body: care.MiteLook{Grade: care.SeveralMites, Where: []care.MiteWhere{care.OnAnimal}, Beside: care.Beside{Note: "in the chin groove"}}}}
	for week := range 7 { // as long as mites are watched for
		f.MiteLooks = append(f.MiteLooks, paper.Dated[care.MiteLook]{At: later(at(2026, 10, 21), week*7), Body: care.MiteLook{Grade: care.NoMites, Where: []care.MiteWhere{care.OnAnimal, care.WaterBowl}}})
	}
	f.MiteLooks = append(f.MiteLooks, paper.Dated[care.MiteLook]{At: at(2027, 2, 24), Body: care.MiteLook{Grade: care.NoMites, Where: []care.MiteWhere{care.WhitePaper, care.WaterBowl}}})
	f.addSamples()
	f.addChances()
	f.Notes = []paper.Dated[care.Note]{{At: at(2027, 2, 20), By: "Mira", Body: care.Note{Text: "A softer lid was put in: she had pushed at the old one every night."}}}
}

// addSamples adds a swab that was looked through for two things, of which one
// said nothing and the other was put right, and one that is pooled and at the
// lab.
func (f *facts) addSamples() {
	f.Samples = []paper.Sampled{
		{At: at(2026, 11, 20), Lab: "Otterby lab", Sample: samples.Sample{Material: "choanal-swab", Site: "left side", Taken: at(2026, 11, 20), For: []knowledge.AgentID{"serpentovirus", "ferlavirus"},
			Results: []samples.Result{{Of: "serpentovirus", Outcome: samples.Inconclusive, At: at(2026, 12, 1), Report: "A-771"}, {Of: "ferlavirus", Outcome: samples.Inhibited, At: at(2026, 12, 1), Report: "A-771"},
				{Of: "serpentovirus", Outcome: samples.NotDetected, At: at(2026, 12, 4), Report: "A-771b", Why: "run again by the lab"}}}},
		{At: at(2027, 2, 26), Others: 2, Sample: samples.Sample{Material: "cloacal-swab", Taken: at(2027, 2, 26), Posted: at(2027, 2, 27), Arrived: at(2027, 3, 1), For: []knowledge.AgentID{"cryptosporidium-serpentis"}, Note: "on dry ice"}},
	}
}

// addChances adds what they prove: of one thing by the swab, which cannot speak for
// another; of worms nothing but that she lived with a newcomer.
func (f *facts) addChances() {
	swab := samples.Stored{Animals: []model.AnimalID{{ID: number(1)}}, Sample: f.Samples[0].Sample}
	begun := func(of knowledge.AgentID) chances.Begun {
		return chances.Begun{Day: at(2026, 10, 14).Day(), Why: chances.ByArrival, Prior: f.Tables.Prior(of, knowledge.FromAny)}
	}
	carrier := func(of knowledge.AgentID) knowledge.Carrier {
		c, _ := f.Tables.Carrier(of)
		return c
	}
	sight, _ := f.Tables.Sight("serpentovirus", "", "choanal-swab", "")
	before, after := evidence.Range{Low: .05, Mid: .2, High: .4}, evidence.Range{Low: .0026, Mid: .0364, High: .2114}
	f.Chances = []chances.Chance{
		{Of: "serpentovirus", Now: after, Begun: begun("serpentovirus"), Carrier: carrier("serpentovirus"), Sights: []knowledge.Sight{sight},
			Steps: []chances.Step{{Sample: swab, Outcome: samples.NotDetected, Before: before, After: after}}, Act: evidence.Take, From: at(2027, 3, 10).Day(), Goal: .01},
		{Of: "reptarenavirus", Steps: []chances.Step{{Sample: swab, Outcome: samples.NotDetected, Mute: chances.Unfit}}},
		{Of: "cryptosporidium", Now: evidence.Range{Low: .03, Mid: .08, High: .15}, Begun: begun("cryptosporidium"), Carrier: carrier("cryptosporidium"), Act: evidence.Take},
		{Of: "worms-and-protozoa", Now: evidence.Range{Low: .2, Mid: .51, High: .78}, Begun: begun("worms-and-protozoa"), Carrier: carrier("worms-and-protozoa"), Act: evidence.Take,
			Exposed: []chances.Exposed{{To: model.AnimalID{ID: number(2)}, From: at(2026, 11, 1).Day(), Until: at(2026, 12, 12).Day(), By: chances.ByNewcomer}}},
	}
}

// Picture is a JPEG of that size with some detail in it.
func Picture(t testing.TB, w, h int) []byte {
	t.Helper()
	picture := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			picture.Set(x, y, color.RGBA{uint8(120 + x*60/w), uint8(110 + y*70/h), uint8(90 + (x/9+y/7)%20), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: 82}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TenYears is an animal with ten years of records: a weighing each week, a meal
// every ten days, a check each month, six sheds a year, and four photos.
func TenYears(t testing.TB) paper.Facts {
	f := facts{Bramble(t)}
	const days = 3650
	start := f.Issued
	start.UTC -= days * 86400
	on := func(day int) model.Moment {
		m := start
		m.UTC += int64(day) * 86400
		return m
	}
	f.Weights, f.Meals, f.Sheds, f.Checks = nil, nil, nil, nil
	for day := range days {
		if day%7 == 0 {
			f.Weights = append(f.Weights, paper.Dated[care.Weight]{At: on(day), Body: care.Weight{Mass: model.Grams(int64(80 + day/3)), Gut: care.GutEmpty}})
		}
		if day%10 == 0 {
			f.Meals = append(f.Meals, paper.Dated[care.Meal]{At: on(day), Body: care.Meal{Prey: care.Rat, Outcome: care.Took, Each: model.Grams(60)}})
		}
		if day%30 == 0 {
			f.Checks = append(f.Checks, f.checkOn(200+len(f.Checks), on(day)))
		}
		if day%61 == 0 {
			f.Sheds = append(f.Sheds, paper.Dated[care.Shed]{At: on(day), Body: care.Shed{Skin: care.Whole}})
		}
	}
	f.Photos = nil
	for i := range 4 {
		f.Photos = append(f.Photos, paper.Photo{ID: model.PhotoID(rune('a' + i)), JPEG: Picture(t, 656+i, 440), Width: 656 + i, Height: 440, Day: f.Issued.Day()})
	}
	f.AllPhotos, f.Entries, f.First = 4, len(f.Weights)+len(f.Meals)+len(f.Checks)+len(f.Sheds), start.Day()
	return f.Facts
}
