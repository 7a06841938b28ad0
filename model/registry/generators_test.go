package registry_test

import (
	"slices"

	"pgregory.net/rapid"

	"coilward/assets"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/husbandry"
	"coilward/model/importing"
	"coilward/model/jot"
	"coilward/model/knowledge"
	"coilward/model/people"
	"coilward/model/storetest"
)

// generators draw commands that a person could give, most of which stand.
func generators() storetest.Generators {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		panic(err)
	}
	all := storetest.Generators{
		"animals.add": func(t *rapid.T, _ model.View) model.Command { return animals.Add{Animal: drawAnimal(t)} },
		"animals.change": ofAnimal(func(t *rapid.T, _ model.View, a animals.Stored) model.Command {
			return animals.Change{ID: a.ID, Base: a.Revision, Animal: drawAnimal(t)}
		}),
		"animals.status": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			return animals.SetStatus{ID: a.ID, Base: a.Revision, Status: rapid.SampledFrom(animals.Statuses()).Draw(t, "status"), Day: model.Date{Day: v.Now().Day(), Precision: model.ToDay}}
		}),
		"animals.remove": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			if len(about(t, v, a, func(model.Document) bool { return true })) > 0 {
				return nil
			}
			return animals.Remove{ID: a.ID}
		}),
		"import.rows": drawRows,
		"jot.several": ofAnimal(drawSeveral),
		"people.add":  func(t *rapid.T, _ model.View) model.Command { return people.Add{Person: drawPerson(t)} },
		"people.change": ofPerson(func(t *rapid.T, d model.Document) model.Command {
			return people.Change{ID: model.PersonID{ID: d.ID}, Base: d.Revision, Person: drawPerson(t)}
		}),
		"people.remove": ofPerson(func(_ *rapid.T, d model.Document) model.Command {
			return people.Remove{ID: model.PersonID{ID: d.ID}}
		}),
	}
	for name, more := range careGenerators(tables) {
		all[name] = more
	}
	for name, more := range bathGenerators(tables) {
		all[name] = more
	}
	for name, more := range feederGenerators(tables) {
		all[name] = more
	}
	for name, more := range mealGenerators(tables) {
		all[name] = more
	}
	for name, more := range examGenerators(tables) {
		all[name] = more
	}
	for name, more := range welfareGenerators(tables) {
		all[name] = more
	}
	for name, more := range miteGenerators() {
		all[name] = more
	}
	for name, more := range husbandryGenerators(tables) {
		all[name] = more
	}
	for name, more := range sampleGenerators(tables) {
		all[name] = more
	}
	for name, more := range positiveGenerators(tables) {
		all[name] = more
	}
	for name, more := range assumedGenerators(tables) {
		all[name] = more
	}
	for name, more := range climateGenerators() {
		all[name] = more
	}
	for name, more := range quarantineGenerators(tables) {
		all[name] = more
	}
	for name, more := range handoverGenerators(tables) {
		all[name] = more
	}
	for name, more := range roundGenerators(tables) {
		all[name] = more
	}
	for name, more := range powerCutGenerators(tables) {
		all[name] = more
	}
	for name, more := range medicineGenerators(tables) {
		all[name] = more
	}
	for name, more := range visitGenerators(tables) {
		all[name] = more
	}
	for name, more := range writtenGenerators(tables) {
		all[name] = more
	}
	for name, more := range dueGenerators(tables) {
		all[name] = more
	}
	return all
}

func drawName(t *rapid.T) string {
	return rapid.StringMatching(`[A-Z][a-z]{3,12} [0-9]{1,6}`).Draw(t, "name")
}

func drawText(t *rapid.T) string {
	return rapid.StringMatching(`[a-zäöüß<>&"]{1,20}`).Draw(t, "text")
}

func drawAnimal(t *rapid.T) animals.Animal {
	return animals.Animal{
		Name: drawName(t), Morph: drawText(t), Note: drawText(t), Status: animals.Kept,
		Sex: rapid.SampledFrom([]animals.Sex{animals.SexUnknown, animals.Female, animals.Male}).Draw(t, "sex"),
	}
}

// drawRows are rows of new animals with entries, and of one that is there.
func drawRows(t *rapid.T, v model.View) model.Command {
	c := importing.Rows{File: drawText(t), Confirmed: model.Confirmed{care.MassFar, "mass.unlike", "animal.gone-asks", "day.before-hatched", "day.before-arrival", "house.shared"}}
	for range rapid.IntRange(0, 2).Draw(t, "animals") {
		c.Animals = append(c.Animals, importing.Animal{Animal: drawAnimal(t)})
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "entries") {
		e := importing.Entry{At: drawAbout(t, v, model.AnimalID{}).At, Body: care.Weight{Mass: model.Grams(rapid.Int64Range(1, 9000).Draw(t, "grams"))}}
		if d, ok := pick(t, v, model.TypeAnimal, present); ok && rapid.Bool().Draw(t, "there") {
			e.Of = model.AnimalID{ID: d.ID}
		} else if len(c.Animals) == 0 {
			continue
		} else {
			e.New = i % len(c.Animals)
		}
		c.Entries = append(c.Entries, e)
		if i == 0 && rapid.Bool().Draw(t, "lives") {
			c.Places = []importing.Place{{Place: husbandry.Place{Name: drawName(t), Kind: husbandry.Room}, New: -1}, {Place: husbandry.Place{Name: drawName(t), Kind: husbandry.Tub}, New: 0}}
			c.Stays = []importing.Stay{{Of: e.Of, New: e.New, NewPlace: 1, From: e.At, Note: drawText(t)}}
		}
	}
	return c
}

// drawSeveral notes the same of an animal and, if there is one, of another.
func drawSeveral(t *rapid.T, v model.View, a animals.Stored) model.Command {
	about := drawAbout(t, v, a.ID)
	c := jot.NoteSeveral{Animals: []model.AnimalID{a.ID}, At: about.At, Confirmed: about.Confirmed}
	if d, ok := pick(t, v, model.TypeAnimal, present); ok {
		c.Animals = append(c.Animals, model.AnimalID{ID: d.ID})
	}
	c.Body = rapid.SampledFrom([]care.Body{
		care.Meal{Prey: care.Rat, Each: model.Grams(60), Outcome: care.Took}, care.Meal{Outcome: care.Refused}, care.Shed{Skin: care.Whole},
		care.Waste{Faeces: []care.Trait{care.NoneSeen}}, care.MiteLook{Grade: care.OneMite, Where: []care.MiteWhere{care.WhitePaper}}, care.Note{Text: drawText(t)},
	}).Draw(t, "body")
	return c
}

func drawPerson(t *rapid.T) people.Person {
	return people.Person{Name: drawName(t), Roles: rapid.SliceOfDistinct(rapid.SampledFrom(people.Roles()), rapid.ID).Draw(t, "roles"),
		Phones: rapid.SliceOfN(rapid.StringMatching(`0[0-9]{3,9}`), 0, people.MaxPhones).Draw(t, "phones"), Address: drawText(t), Note: drawText(t), Private: rapid.Bool().Draw(t, "private")}
}

// pick is one document of a type for which fits holds.
func pick(t *rapid.T, v model.View, of model.DocumentType, fits func(model.Document) bool) (model.Document, bool) {
	var all []model.Document
	err := v.All(of, func(d model.Document) bool {
		if fits(d) {
			all = append(all, d)
		}
		return len(all) < 30
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) == 0 {
		return model.Document{}, false
	}
	return rapid.SampledFrom(all).Draw(t, "document"), true
}

func present(model.Document) bool { return true }

func ofAnimal(draw func(*rapid.T, model.View, animals.Stored) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypeAnimal, present)
		if !ok {
			return nil
		}
		a, err := animals.Decode(d)
		if err != nil {
			t.Fatal(err)
		}
		return draw(t, v, a)
	}
}

func ofPerson(draw func(*rapid.T, model.Document) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypePerson, present)
		if !ok {
			return nil
		}
		return draw(t, d)
	}
}

func about(t *rapid.T, v model.View, a animals.Stored, fits func(model.Document) bool) (all []model.Document) {
	err := v.Timeline(a.ID.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if fits(d) {
			all = append(all, d)
		}
		return true
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// drawAbout is an entry of the last year, to which every question is answered
// with yes.
func drawAbout(t *rapid.T, v model.View, animal model.AnimalID) care.About {
	at := v.Now()
	at.UTC -= rapid.Int64Range(60, 365*24*60*60).Draw(t, "ago")
	return care.About{Animal: animal, At: at, Confirmed: model.Confirmed{"mass.unlike", "animal.gone-asks", "day.before-hatched", "day.before-arrival"}}
}

func careGenerators(tables *knowledge.Tables) storetest.Generators {
	entry := func(draw func(*rapid.T, care.About) model.Command) storetest.Generator {
		return ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			return draw(t, drawAbout(t, v, a.ID))
		})
	}
	return storetest.Generators{
		"care.weigh": entry(func(t *rapid.T, a care.About) model.Command {
			mass := model.Mass{Milligrams: rapid.Int64Range(1000, 9_000_000).Draw(t, "mass"), Typed: drawText(t)}
			return care.Weigh{About: a, Weight: care.Weight{Mass: mass}, Again: mass}
		}),
		"care.feed": entry(func(t *rapid.T, a care.About) model.Command {
			return care.Feed{About: a, Meal: care.Meal{
				Prey: rapid.SampledFrom(care.Preys()).Draw(t, "prey"), Outcome: rapid.SampledFrom([]care.Outcome{care.Took, care.Refused}).Draw(t, "outcome"),
			}}
		}),
		"care.shed": entry(func(t *rapid.T, a care.About) model.Command {
			return care.RecordShed{About: a, Shed: care.Shed{Skin: rapid.SampledFrom([]care.Skin{care.SkinNotLooked, care.Whole, care.InPieces}).Draw(t, "skin")}}
		}),
		"care.waste": entry(func(t *rapid.T, a care.About) model.Command {
			return care.RecordWaste{About: a, Waste: care.Waste{Faeces: []care.Trait{rapid.SampledFrom(care.FaecesTraits()).Draw(t, "faeces")}}}
		}),
		"care.note": entry(func(t *rapid.T, a care.About) model.Command {
			return care.WriteNote{About: a, Note: care.Note{Text: drawText(t)}}
		}),
		"care.photo": entry(func(t *rapid.T, a care.About) model.Command {
			id := model.PhotoID(rapid.StringMatching(`[0-9a-f]{64}`).Draw(t, "photo"))
			return care.AddPhoto{About: a, Photo: care.Photo{Photos: []model.PhotoID{id}}}
		}),
		"care.photos": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			c := care.AddPhotos{Tables: tables, Confirmed: model.Confirmed{care.FileDay}}
			for range rapid.IntRange(1, 4).Draw(t, "shots") {
				about := drawAbout(t, v, a.ID)
				c.Confirmed = append(c.Confirmed, about.Confirmed...)
				c.Shots = append(c.Shots, care.Shot{Animal: a.ID, At: about.At, Photo: model.PhotoID(rapid.StringMatching(`[0-9a-f]{64}`).Draw(t, "photo")),
					Pose: rapid.SampledFrom([]knowledge.PoseID{"", "above", "vent"}).Draw(t, "pose"), Dated: rapid.SampledFrom([]care.Dated{care.ByCamera, care.ByFile}).Draw(t, "dated")})
			}
			return c
		}),
		"care.pose": ofEntry(func(t *rapid.T, v model.View, e care.Entry) model.Command {
			p, is := e.Body.(care.Photo)
			if !is {
				return nil
			}
			return care.SetPose{Tables: tables, Entry: e.ID, Base: e.Revision, Photo: rapid.SampledFrom(p.Photos).Draw(t, "photo"),
				Pose: rapid.SampledFrom([]knowledge.PoseID{"", "above", "vent"}).Draw(t, "pose")}
		}),
		"care.change": ofEntry(func(t *rapid.T, v model.View, e care.Entry) model.Command {
			about := drawAbout(t, v, e.Animal)
			c := care.Change{Entry: e.ID, Base: e.Revision, About: about, Body: e.Body}
			if w, ok := e.Body.(care.Weight); ok {
				c.Again = w.Mass
			}
			return c
		}),
		"care.remove": ofEntry(func(_ *rapid.T, _ model.View, e care.Entry) model.Command { return care.Remove{Entry: e.ID} }),
	}
}

func ofEntry(draw func(*rapid.T, model.View, care.Entry) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool { return slices.Contains(care.Kinds(), d.Kind) })
		if !ok {
			return nil
		}
		e, _, err := care.Decode(d)
		if err != nil {
			t.Fatal(err)
		}
		return draw(t, v, e)
	}
}

func examGenerators(tables *knowledge.Tables) storetest.Generators {
	return storetest.Generators{
		"exam.finish": ofAnimal(func(t *rapid.T, v model.View, a animals.Stored) model.Command {
			problems, err := exam.Problems(v, a.ID)
			if err != nil {
				t.Fatal(err)
			}
			d := exam.Begin(tables, exam.Beginning{Check: model.EntryID{ID: v.NewID()}, Animal: a.ID, At: v.Now(), Problems: problems})
			return exam.Finish{Tables: tables, Draft: walked(t, tables, d, v.Now())}
		}),
		"exam.change": ofCheck(func(t *rapid.T, d model.Document, c exam.Check) model.Command {
			c.Note = drawText(t)
			if len(c.Findings) > 0 && rapid.Bool().Draw(t, "less") {
				c.Findings = c.Findings[1:]
			}
			return exam.Change{Tables: tables, Entry: model.EntryID{ID: d.ID}, Based: d.Revision, Walk: c.Walk, At: c.Finished}
		}),
		"exam.remove": ofCheck(func(_ *rapid.T, d model.Document, _ exam.Check) model.Command {
			return exam.Remove{Entry: model.EntryID{ID: d.ID}}
		}),
		"exam.baseline": ofProblem(func(t *rapid.T, _ model.View, p exam.StoredProblem) model.Command {
			row, _ := tables.Finding(p.What)
			return exam.SetBaseline{Tables: tables, Problem: p.ID, Baseline: row.Baseline && rapid.Bool().Draw(t, "own")}
		}),
		"exam.close": ofProblem(func(t *rapid.T, v model.View, p exam.StoredProblem) model.Command {
			return exam.Close{Problem: p.ID, At: v.Now(), Note: drawText(t)}
		}),
	}
}

// walked presses keys as a person does; those that the draft refuses are passed
// over.
func walked(t *rapid.T, tables *knowledge.Tables, d exam.Draft, at model.Moment) exam.Draft {
	keys := []exam.Key{'1', '2', '3', exam.KeyEnter, exam.KeyEnter, exam.KeyNotLooked, exam.KeyVet}
	for range rapid.IntRange(3, 30).Draw(t, "keys") {
		if next, err := d.Press(tables, rapid.SampledFrom(keys).Draw(t, "key"), at); err == nil {
			d = next
		}
	}
	return d
}

func ofCheck(draw func(*rapid.T, model.Document, exam.Check) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypeEntry, func(d model.Document) bool { return d.Kind == exam.KindCheck })
		if !ok {
			return nil
		}
		c, err := exam.ReadCheck(d)
		if err != nil {
			t.Fatal(err)
		}
		return draw(t, d, c)
	}
}

func ofProblem(draw func(*rapid.T, model.View, exam.StoredProblem) model.Command) storetest.Generator {
	return func(t *rapid.T, v model.View) model.Command {
		d, ok := pick(t, v, model.TypeProblem, present)
		if !ok {
			return nil
		}
		p, err := exam.ReadProblem(d)
		if err != nil {
			t.Fatal(err)
		}
		return draw(t, v, p)
	}
}
