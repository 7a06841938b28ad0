package paper_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/storetest"
)

// sitting is what is due with the animals of a collection in that many days.
func (k *kept) sitting(days int) (s paper.Sitting) {
	k.t.Helper()
	list, err := due.NewBook(k.tables).Bring(k.t.Context(), k.c, nil)
	if err != nil {
		k.t.Fatal(err)
	}
	k.view(func(v model.View) (err error) { s, err = paper.GatherSitting(v, k.tables, list, days); return err })
	return s
}

func TestTheSitterIsToldWhatIsDoneWhen(t *testing.T) {
	k := keep(t)
	room := k.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Mill box", Kind: husbandry.Enclosure}}}})
	k.do(husbandry.Move{Animal: k.animal, Place: model.PlaceID{ID: room}, At: k.now()})
	k.do(animals.Add{Animal: animals.Animal{Name: "Lent", Species: "python-regius", Status: animals.OnLoan}})
	k.do(care.Weigh{About: k.about(), Weight: care.Weight{Mass: model.Grams(300), Gut: care.GutEmpty}})
	k.do(care.Feed{About: k.about(), Meal: care.Meal{Prey: care.Rat, Size: care.Weaner, Each: model.Grams(30), Outcome: care.Took}})
	k.clock.Pass(48 * time.Hour)
	k.do(care.Feed{About: k.about(), Meal: care.Meal{Prey: care.Mouse, Outcome: care.Refused}})
	s := k.sitting(28)
	if len(s.Homes) != 1 || s.Homes[0].Animal.Name != "Kestrel" || s.Homes[0].Where != "Mill box" || s.Homes[0].Meal.Prey != care.Rat || s.Until-s.From != 27 {
		t.Errorf("homes %+v, %v to %v", s.Homes, s.From, s.Until)
	}
	offers := 0
	for i, task := range s.Tasks {
		if task.Whom == "Lent" {
			t.Error("who is on loan is looked after elsewhere")
		}
		if task.Day < s.From || task.Day > s.Until || i > 0 && task.Day < s.Tasks[i-1].Day {
			t.Errorf("task %d is on %v", i, task.Day)
		}
		if task.Job == due.Weigh || task.Job == due.Check {
			t.Errorf("%s can wait for the keeper", task.Job)
		}
		if task.Job == due.Offer {
			if task.Again != (offers > 0) {
				t.Errorf("offer %d: again %v", offers, task.Again)
			}
			offers++
		}
	}
	if offers < 2 || s.Left == 0 {
		t.Errorf("food is offered %d times in four weeks; %d things are left", offers, s.Left)
	}
	if fewer := k.sitting(1); len(fewer.Tasks) >= len(s.Tasks) {
		t.Error("one day asks for as much as four weeks")
	}
	plain := paper.Plain(paper.SitterPaper(s, practices()[:2], k.tables, papertest.Keys{}, paper.A4))
	for _, want := range []string{"Kestrel", "Mill box", "care.prey.rat, care.prey-size.weaner, 30000mg", "due.job.offer", "Dr. Wren Alder", "paper.sitter.not-text", "paper.sitter.left×", "paper.sitter.done: [ ]"} {
		if !strings.Contains(plain, want) {
			t.Errorf("the paper does not say %q:\n%s", want, plain)
		}
	}
}

// What is for the vet stands on the first page.
func TestTheSitterIsToldWhatIsForTheVet(t *testing.T) {
	k := keep(t)
	k.check("mouth", "bleeding")
	s := k.sitting(14)
	if s.Homes[0].Level != knowledge.EmergencyToday || len(s.Homes[0].For) == 0 {
		t.Fatalf("nothing is for the vet: %+v", s)
	}
	plain := paper.Plain(paper.SitterPaper(s, nil, k.tables, papertest.Keys{}, paper.A4))
	if at, days := strings.Index(plain, "paper.sitter.vet"), strings.Index(plain, "paper.sitter.days"); at < 0 || days < at || !strings.Contains(plain, "paper.call.nobody") {
		t.Errorf("what is for the vet stands at %d, the days at %d:\n%s", at, days, plain)
	}
}

func TestASittingOfNobody(t *testing.T) {
	plain := paper.Plain(paper.SitterPaper(paper.Sitting{}, nil, papertest.Tables(t), papertest.Keys{}, paper.Letter))
	if !strings.Contains(plain, "paper.sitter.nothing") {
		t.Errorf("it is not said that nothing is due:\n%s", plain)
	}
}

func TestTheSittersRulesHoldOnePage(t *testing.T) {
	k := keep(t)
	k.check("mouth", "bleeding")
	for size, sheet := range sizes() {
		for _, language := range []string{"en", "de"} {
			d := paper.SitterPaper(k.sitting(14), practices()[:3], k.tables, papertest.Text(t, language), sheet)
			if pages := paper.Layout(d); pages[0].Section == pages[1].Section {
				t.Errorf("%s %s: the rules take more than a page", size, language)
			}
			plain := paper.Plain(d)
			if strings.ContainsAny(plain, "⟦□") {
				t.Errorf("a text is missing or cannot be printed: %s", lineWith(plain, "⟦□"))
			}
			for _, w := range []string{"healthy", "dose", " mg", "ist gesund", "frei von", "dosis"} {
				if strings.Contains(strings.ToLower(plain), w) {
					t.Errorf("%s: the paper says %q", language, w)
				}
			}
		}
	}
}

// Emergencies stand first, whatever the names; visits of one animal on one day are
// one line, with all that they are for; who is to be kept apart stands under what
// to heed.
func TestTheSitterIsToldHowUrgentItIs(t *testing.T) {
	subject := func(n byte) model.Subject { return model.AnimalID{ID: model.ID{n}}.Subject() }
	owner := func(n byte, name string) *due.Owner {
		stored := animals.Stored{ID: model.AnimalID{ID: model.ID{n}}, Animal: animals.Animal{Name: name, Status: animals.Kept}}
		return &due.Owner{Subject: subject(n), Name: name, Animal: stored}
	}
	visit := func(of *due.Owner, level knowledge.Level, by model.Day, caution string, what ...knowledge.FindingID) due.Item {
		return due.Item{Of: of, State: due.Alert, Obligation: due.Obligation{Key: due.Key{Subject: of.Subject, Job: due.SeeVet}, By: by, Level: level, For: what, Caution: caution}}
	}
	k := keep(t)
	day := k.now().Day()
	ash, zora := owner(1, "Ash"), owner(2, "Zora")
	list := due.List{Day: day, Owners: []*due.Owner{ash, zora}, Items: []due.Item{
		visit(ash, knowledge.VetWithinDays, day, "", "burn"), visit(ash, knowledge.VetWithinDays, day, "due.caution.apart", "mites", "burn"),
		visit(zora, knowledge.EmergencyToday, day, "", "bleeding"), visit(zora, knowledge.VetWithinDays, day+2, "", "lump"),
	}}
	var s paper.Sitting
	k.view(func(v model.View) (err error) { s, err = paper.GatherSitting(v, k.tables, list, 5); return err })
	if len(s.Tasks) != 3 {
		t.Fatalf("%d lines, want one for Ash and two for Zora: %+v", len(s.Tasks), s.Tasks)
	}
	plain := paper.Plain(paper.SitterPaper(s, nil, k.tables, papertest.Keys{}, paper.A4))
	at := -1
	for _, want := range []string{"Zora: paper.sitter.emergency (finding.bleeding, finding.lump)", "Ash: urgency.vet-within-days (finding.burn, finding.mites)", "== paper.sitter.days",
		"[triangle] due.job.see-vet: finding.bleeding / paper.sitter.emergency", "due.job.see-vet: finding.burn, finding.mites / urgency.vet-within-days / due.caution.apart", "due.job.see-vet: finding.lump / urgency.vet-within-days",
		"paper.sitter.heed: paper.sitter.heed-vet / paper.sentence.apart", "paper.sitter.heed: paper.sitter.emergency"} {
		next := strings.Index(plain, want)
		if next <= at {
			t.Errorf("%q stands at %d, after %d:\n%s", want, next, at, plain)
		}
		at = max(at, next)
	}
	if n := strings.Count(plain, "paper.sentence.apart"); n != 1 {
		t.Errorf("%d are to be kept apart, want one", n)
	}
}

// What is heeded of an animal in quarantine, also where that cannot be read, and of one that was near a positive, stands
// beside it; beside another it does not.
func TestTheSitterHeedsQuarantineAndWhoWasNear(t *testing.T) {
	k, _ := inQuarantine(t)
	room := func(name string) model.PlaceID {
		return model.PlaceID{ID: k.do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: name, Kind: husbandry.Vivarium}}}})}
	}
	ill := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Alder"}})}
	mate := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Brook"}})}
	far := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Rowan"}})}
	elder := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: "Elder"}})}
	shared := room("Room")
	for _, move := range []husbandry.Move{{Animal: ill, Place: shared, At: k.now()}, {Animal: mate, Place: shared, At: k.now(), Confirmed: model.Confirmed{"house.shared"}}, {Animal: far, Place: room("Barn"), At: k.now()}, {Animal: elder, Place: room("Attic"), At: k.now()}} {
		k.do(move)
	}
	k.clock.Pass(72 * time.Hour)
	k.detected(ill)
	k.do(storetest.Put{Documents: []model.Document{{Type: model.TypeQuarantine, ID: model.ID{9}, Version: 1, At: k.now(), Subjects: []model.Subject{elder.Subject()}, Body: []byte("[]")}}}) // it may be open
	heed := map[string]string{}
	plain := paper.Plain(paper.SitterPaper(k.sitting(5), nil, k.tables, papertest.Keys{}, paper.A4))
	for _, want := range []string{"## paper.sitter.last\nBrook → Alder → Kestrel → Elder\npaper.sitter.last-text", "Alder: urgency.vet-within-days; paper.tests.detected-in{Agent=agent.serpentovirus}"} {
		if page, _, _ := strings.Cut(plain, "== paper.sitter.days"); !strings.Contains(page, want) {
			t.Errorf("%q is not on the first page:\n%s", want, page)
		}
	}
	for line := range strings.Lines(plain) {
		for _, name := range []string{"Kestrel", "Brook", "Rowan", "Elder"} {
			if strings.Contains(line, "paper.sitter.whom: "+name) && strings.Contains(line, "paper.sitter.where:") {
				_, heed[name], _ = strings.Cut(strings.TrimSpace(line), "paper.sitter.heed: ")
			}
		}
	}
	for name, want := range map[string]string{"Kestrel": "paper.sitter.heed-quarantine / paper.sentence.apart", "Brook": "paper.sitter.heed-near{Agent=agent.serpentovirus} / paper.sentence.apart", "Rowan": "", "Elder": "paper.sitter.heed-quarantine / paper.sentence.apart"} {
		if got, there := heed[name]; !there || !strings.HasPrefix(got, want) || want == "" && strings.Contains(got, "paper.s") {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// On a day, tasks stand in the order of numbers by the names of whom they are of.
func TestTheSitterReadsTheNamesInTheOrderOfNumbers(t *testing.T) {
	k := keep(t)
	for _, name := range []string{"Aa 10", "Aa 9"} {
		a := model.AnimalID{ID: k.do(animals.Add{Animal: animals.Animal{Name: name, Species: "python-regius", Status: animals.Kept}})}
		k.do(care.Feed{About: care.About{Animal: a, At: k.now()}, Meal: care.Meal{Prey: care.Rat, Size: care.Weaner, Each: model.Grams(30), Outcome: care.Took}})
	}
	tasks := k.sitting(28).Tasks
	whom := func(name string) int {
		return slices.IndexFunc(tasks, func(task paper.Task) bool { return task.Whom == name && task.Job == due.Offer })
	}
	if nine, ten := whom("Aa 9"), whom("Aa 10"); nine < 0 || ten < nine || tasks[nine].Day != tasks[ten].Day {
		t.Errorf("%d and %d of %+v", nine, ten, tasks)
	}
}
