package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/newcomers"
	"coilward/model/people"
	"coilward/model/positives"
	"coilward/model/round"
)

// Sitting is what the paper for whoever looks after the animals states: who lives
// where and eats what, and what is due in those days.
type Sitting struct {
	From, Until model.Day
	Issued      model.Moment
	Homes       []Home // by name
	Tasks       []Task // by day
	// Left is how many weighings and checks are due in those days that can wait for
	// the keeper; Unread are those whose records cannot be read.
	Left   int
	Unread []string
	// UnreadSamples is how many samples cannot be read: what was detected in them is
	// not known.
	UnreadSamples int
}

// Home is one animal as the paper names it.
type Home struct {
	Animal animals.Animal
	Where  string    // empty: not known
	Turn   int       // its place among those who are looked after last, from 1; 0: it is none of them
	Meal   care.Meal // the last that was taken
	Fed    model.Day // when; 0: none is in the records
	Rest   model.Day // up to which it is not to be lifted; 0: none
	// Level is the most urgent of what is open, For what it is said of where that
	// is a matter for the vet.
	Level knowledge.Level
	For   []knowledge.FindingID
	Why   []model.Label // in a few words what else that is, where it is no finding
	Apart bool          // it is to be kept apart from others
	// Detected is what was detected in its samples, Near what was detected in an animal
	// that it was near, and is not settled.
	Detected, Near []knowledge.AgentID
	Unsettled      []knowledge.AgentID // of Detected, what is not settled
	Quarantined    bool                // it is in quarantine
}

// grave reports whether something is open that is a matter for the vet.
func (h Home) grave() bool { return h.Level >= knowledge.VetWithinDays }

// owes takes what an item tells of the animal.
func (h *Home) owes(item due.Item) {
	level := item.Level
	if item.Job == due.SeeVet {
		level = max(level, knowledge.VetWithinDays)
	}
	if level >= knowledge.VetWithinDays {
		h.For, h.Why = joined(h.For, item.For), briefs(h.Why, item)
	}
	h.Level = max(h.Level, level)
	h.Apart = h.Apart || item.Caution == apartCaution
	if item.Caution == restCaution {
		h.Rest = max(h.Rest, item.By)
	}
}

// turnsLast are the turns of those who are looked after last, as on a round by the order
// that was chosen last: from the first class on that may carry something on, in the walk
// through the house.
func turnsLast(v model.View, tables *knowledge.Tables) (map[model.AnimalID]int, error) {
	rounds, err := round.Last(v, 1)
	if err != nil {
		return nil, fmt.Errorf("gather who is looked after last: %w", err)
	}
	order := round.Chosen(tables, rounds)
	house, err := round.ReadHouse(v, tables)
	if err != nil {
		return nil, fmt.Errorf("gather who is looked after last: %w", err)
	}
	rank := func(d round.Dweller) int { return round.Rank(order, round.Rules(order, d.Facts.All())) }
	behind := slices.DeleteFunc(slices.Clone(house.Dwellers), func(d round.Dweller) bool { return rank(d) < round.Rank(order, round.NearPositive) })
	slices.SortStableFunc(behind, func(a, b round.Dweller) int { return cmp.Compare(rank(a), rank(b)) })
	turns := map[model.AnimalID]int{}
	for i, d := range behind {
		turns[d.Animal] = i + 1
	}
	return turns, nil
}

// joined are the findings of two lists, each once.
func joined(a, b []knowledge.FindingID) []knowledge.FindingID {
	for _, what := range b {
		if !slices.Contains(a, what) {
			a = append(slices.Clip(a), what)
		}
	}
	return a
}

// briefs are what some items are about that is no finding, with one more.
func briefs(all []model.Label, item due.Item) []model.Label {
	if item.Brief == nil {
		return all
	}
	return append(slices.Clip(all), *item.Brief)
}

// Task is one thing to be done on one day.
type Task struct {
	Day     model.Day
	Of      model.Subject
	Whom    string // its name
	Job     due.Job
	Level   knowledge.Level // of what made it due
	For     []knowledge.FindingID
	Why     []model.Label // as of Home
	Caution string        // key, empty: none
	Late    bool          // it was due before
	Dose    *Dosing       // of GiveDose
	Again   bool          // it comes by the rhythm, counted from the day before it on the list
}

// GatherSitting reads what is to be done in a number of days from today, given
// what is due. Animals on loan are looked after elsewhere.
func GatherSitting(v model.View, tables *knowledge.Tables, list due.List, days int) (Sitting, error) {
	now := v.Now()
	s := Sitting{From: now.Day(), Until: now.Day() + model.Day(days) - 1, Issued: now}
	house, err := husbandry.ReadHouse(v)
	if err != nil {
		return s, fmt.Errorf("gather who lives where: %w", err)
	}
	detected, unread, err := detections(v)
	if err != nil {
		return s, fmt.Errorf("gather what was detected: %w", err)
	}
	s.UnreadSamples = unread
	quarantined, near, unsettled, err := heeded(v, tables)
	if err != nil {
		return s, err
	}
	turns, err := turnsLast(v, tables)
	if err != nil {
		return s, err
	}
	byAnimal := list.BySubject()
	for _, owner := range list.Owners {
		if owner.Subject.Kind != model.SubjectAnimal || owner.Animal.Status == animals.OnLoan {
			continue
		}
		h := Home{Animal: owner.Animal.Animal, Detected: detected[owner.Animal.ID], Near: near[owner.Animal.ID], Unsettled: unsettled[owner.Animal.ID], Quarantined: quarantined[owner.Animal.ID], Turn: turns[owner.Animal.ID]}
		if stay, there := house.Where(owner.Animal.ID, now); there {
			h.Where = house.Title(stay.Place)
		}
		if h.Meal, h.Fed, err = lastTaken(v, owner.Animal.ID); err != nil {
			return s, fmt.Errorf("gather what %s eats: %w", h.Animal.Name, err)
		}
		for _, item := range byAnimal[owner.Subject] {
			h.owes(item)
		}
		s.Homes = append(s.Homes, h)
	}
	for _, item := range list.Items {
		if item.Subject.Kind == model.SubjectInstrument || slices.Contains([]due.Act{due.ActTray, due.ActNewcomers, due.ActPositive, due.ActPhotos}, item.Act) || item.Act == due.ActMedicine && item.Job != due.VetVisit || item.Act == due.ActVisit && item.By < v.Now().Day() {
			continue // for whoever keeps the instruments, at any time; samples, who is released, what was detected, photos of an arrival, doses, which stand on their days, and whether a visit was held are the keeper's alone
		}
		if item.Subject.Kind != model.SubjectAnimal || item.Of.Animal.Status != animals.OnLoan {
			s.add(item)
		}
	}
	if err := s.addDoses(v, list); err != nil {
		return s, err
	}
	slices.SortStableFunc(s.Tasks, func(a, b Task) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(b.grave(), a.grave()), model.Natural(animals.Fold(a.Whom), animals.Fold(b.Whom)))
	})
	for _, u := range list.Unread {
		s.Unread = append(s.Unread, u.Of.Name)
	}
	return s, nil
}

// heeded are the animals in quarantine, what was detected in another that an animal was
// near, and what was detected in it and is not settled.
func heeded(v model.View, tables *knowledge.Tables) (quarantined map[model.AnimalID]bool, near, unsettled map[model.AnimalID][]knowledge.AgentID, err error) {
	open, err := newcomers.All(v, tables)
	if err != nil {
		return nil, nil, nil, fmt.Errorf("gather who is in quarantine: %w", err)
	}
	traces, err := positives.Unsettled(v, tables)
	if err != nil {
		return nil, nil, nil, fmt.Errorf("gather who was near a positive: %w", err)
	}
	quarantined, near, unsettled = map[model.AnimalID]bool{}, map[model.AnimalID][]knowledge.AgentID{}, map[model.AnimalID][]knowledge.AgentID{}
	for _, n := range open {
		quarantined[n.Quarantine.Animal] = true // also one of which it cannot be read
	}
	for _, trace := range traces {
		for _, n := range trace.Exposed() {
			if !slices.Contains(near[n.Animal], trace.Agent) {
				near[n.Animal] = append(near[n.Animal], trace.Agent)
			}
		}
		for _, animal := range trace.Animals {
			if !slices.Contains(unsettled[animal], trace.Agent) {
				unsettled[animal] = append(unsettled[animal], trace.Agent)
			}
		}
	}
	return quarantined, near, unsettled, nil
}

// restCaution is said of what waits because the animal is not to be lifted after
// a meal, apartCaution of an animal that is to be kept apart.
const (
	restCaution  = "due.caution.rest"
	apartCaution = "due.caution.apart"
)

// lastTaken is the newest meal that was taken, and its day.
func lastTaken(v model.View, animal model.AnimalID) (meal care.Meal, on model.Day, err error) {
	err = v.Timeline(animal.Subject(), model.Beginning, model.EndOfTime, func(d model.Document) bool {
		if d.Type != model.TypeEntry || d.Kind != care.KindMeal {
			return true
		}
		entry, known, unread := care.Decode(d)
		if m, is := entry.Body.(care.Meal); known && unread == nil && is && m.Outcome == care.Took {
			meal, on = m, d.At.Day()
			return false
		}
		return true
	})
	return meal, on, err
}

// add puts an item on each of its days.
func (s *Sitting) add(item due.Item) {
	grave := item.Level >= knowledge.VetWithinDays
	first := max(item.Day(s.From), s.From)
	switch {
	case item.State == due.Answered && !grave, first > s.Until, item.Once && item.Day(s.From) < s.From:
		return
	case (item.Job == due.Weigh || item.Job == due.Check) && item.Level == knowledge.Nothing:
		s.Left++
		return
	}
	t := Task{Day: first, Of: item.Subject, Whom: item.Of.Name, Job: item.Job, Level: item.Level, For: item.For, Why: briefs(nil, item),
		Caution: item.Caution, Late: item.Day(s.From) < s.From}
	if s.told(t) {
		return
	}
	s.Tasks = append(s.Tasks, t)
	if item.Every <= 0 || item.Once {
		return
	}
	for day := first + model.Day(item.Every); day <= s.Until; day += model.Day(item.Every) {
		t.Day, t.Late, t.Again = day, false, true
		s.Tasks = append(s.Tasks, t)
	}
}

// told joins a visit to the vet or a look with another of the same animal on the
// same day, where there is one.
func (s *Sitting) told(t Task) bool {
	if t.Job != due.SeeVet && t.Job != due.LookAgain {
		return false
	}
	i := slices.IndexFunc(s.Tasks, func(o Task) bool { return o.Of == t.Of && o.Day == t.Day && o.Job == t.Job })
	if i < 0 {
		return false
	}
	there := &s.Tasks[i]
	there.For, there.Why, there.Level = joined(there.For, t.For), slices.Concat(there.Why, t.Why), max(there.Level, t.Level)
	there.Caution, there.Late = cmp.Or(there.Caution, t.Caution), there.Late || t.Late
	return true
}

// grave is how urgent a task is where that is a matter for the vet.
func (t Task) grave() knowledge.Level {
	if t.Level < knowledge.VetWithinDays {
		return knowledge.Nothing
	}
	return t.Level
}

// SitterPaper is for whoever looks after the animals for a time: whom to call,
// what is done each day, what is left alone, who lives where and eats what, and
// day by day what the records ask for.
func SitterPaper(s Sitting, called []people.Stored, tables *knowledge.Tables, text Text, size Size) Document {
	r := sitter{s, record{Facts: Facts{Tables: tables}, text: text, long: &[][2]string{}}}
	return Document{
		Title:      text.Say("paper.sitter.kicker"),
		Subject:    r.period(),
		Language:   text.Language(),
		Size:       size,
		FootLeft:   text.Say("paper.sitter.kicker"),
		FootMiddle: text.Say("paper.card.foot", gaps{"Day": s.Issued.Day()}),
		PageOf:     r.pageOf,
		Sections: []Section{
			{Name: text.Say("paper.sitter.kicker"), Fit: true, Blocks: r.rules(called)},
			{Name: text.Say("paper.sitter.days"), Blocks: append(r.days(), r.homes()...)},
		},
	}.tellingMissing(text)
}

// sitter is a sitting with what is needed to word it.
type sitter struct {
	Sitting
	record
}

func (r sitter) period() string {
	return r.say("paper.sitter.period", gaps{"From": r.From, "Until": r.Until})
}

// lines are the sentences of a text that has one to a line.
func (r sitter) lines(key string) []string { return strings.Split(r.say(key), "\n") }

func (r sitter) rules(called []people.Stored) []Block {
	blocks := []Block{
		Paragraph{r.say("paper.sitter.kicker"), smallBold.In(Accent)},
		Paragraph{r.say("paper.sitter.head"), titleStyle},
		Paragraph{r.period(), textStyle.In(Ink2)},
		Heading{Level: 2, Text: r.say("paper.sitter.call")},
		Columns{Shares: []float64{1, 1}, Gap: 8, Parts: halves(calls(r.text, called))},
	}
	if grave := r.forVet(); len(grave) > 0 {
		blocks = append(blocks, Heading{Level: 2, Text: r.say("paper.sitter.vet")}, List{Triangle, grave, textStyle}, Paragraph{r.say("paper.sitter.vet-text"), smallStyle})
	}
	if last := r.last(); len(last) > 0 {
		blocks = append(blocks, Heading{Level: 2, Text: r.say("paper.sitter.last")}, Paragraph{strings.Join(last, " → "), textStyle}, Paragraph{r.say("paper.sitter.last-text"), smallStyle})
	}
	return append(blocks,
		Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{
			{Heading{Level: 2, Text: r.say("paper.sitter.daily")}, List{Ring, r.lines("paper.sitter.daily-text"), textStyle}},
			{Heading{Level: 2, Text: r.say("paper.sitter.not")}, List{Triangle, r.lines("paper.sitter.not-text"), textStyle}},
		}},
		Heading{Level: 2, Text: r.say("paper.sitter.wrong")},
		List{Triangle, r.lines("paper.sitter.wrong-text"), textStyle},
		Paragraph{r.say("paper.sitter.caution") + " " + r.text.Source("common practice, no source"), smallStyle},
		Signatures{r.say("paper.sitter.keeper"), r.say("paper.sitter.taken")})
}

// forVet names those of whom something is open that is a matter for the vet, how
// urgent it is and what it is, emergencies first.
func (r sitter) forVet() []string {
	grave := slices.DeleteFunc(slices.Clone(r.Homes), func(h Home) bool { return !h.grave() && len(h.Unsettled) == 0 })
	slices.SortStableFunc(grave, func(a, b Home) int { return cmp.Compare(b.Level, a.Level) })
	var said []string
	for _, h := range grave {
		var what []string
		if h.grave() {
			one := r.urgency(h.Level)
			if finds := r.whys(h.For, h.Why); finds != "" {
				one += " (" + finds + ")"
			}
			what = append(what, one)
		}
		for _, of := range h.Unsettled {
			what = append(what, r.say("paper.tests.detected-in", gaps{"Agent": r.agent(of)}))
		}
		said = append(said, Strong(r.brief("paper.long.name", h.Animal.Name, longestTitle))+": "+strings.Join(what, "; "))
	}
	return said
}

// last names those who are looked after behind all others, in their turns.
func (r sitter) last() []string {
	behind := slices.DeleteFunc(slices.Clone(r.Homes), func(h Home) bool { return h.Turn == 0 })
	slices.SortStableFunc(behind, func(a, b Home) int { return cmp.Compare(a.Turn, b.Turn) })
	var names []string
	for _, h := range behind {
		names = append(names, Strong(r.brief("paper.long.name", h.Animal.Name, longestTitle)))
	}
	return names
}

// urgency is how urgent what is for the vet is, and what to do with it.
func (r sitter) urgency(level knowledge.Level) string {
	if level >= knowledge.EmergencyToday {
		return Strong(r.say("paper.sitter.emergency"))
	}
	return r.say("urgency." + level.String())
}

// whys are findings, and what else there is for a vet to see.
func (r sitter) whys(all []knowledge.FindingID, beside []model.Label) string {
	var words []string
	for _, what := range all {
		words = append(words, r.say("finding."+string(what)))
	}
	for _, l := range beside {
		words = append(words, labelled(r.text, l))
	}
	return strings.Join(words, ", ")
}

// days is what is to be done, day by day, with room to tick it off.
func (r sitter) days() []Block {
	blocks := []Block{Heading{Level: 1, Text: r.say("paper.sitter.days"), Aside: r.period()}, Paragraph{r.say("paper.sitter.days-text"), smallStyle}}
	for _, name := range r.Unread {
		blocks = append(blocks, Paragraph{r.say("due.page.unread", gaps{"Name": Clean(name)}), textStyle})
	}
	if r.UnreadSamples > 0 {
		blocks = append(blocks, Paragraph{r.say("paper.unread", gaps{"Kinds": r.kind(string(model.TypeSample), r.UnreadSamples)}), textStyle})
	}
	if r.Left > 0 {
		blocks = append(blocks, Paragraph{r.text.Count("paper.sitter.left", r.Left), smallStyle})
	}
	if len(r.Tasks) == 0 {
		return append(blocks, Paragraph{r.say("paper.sitter.nothing"), textStyle})
	}
	t := Table{Columns: []Column{{Title: r.say("paper.table.day"), Fixed: 30}, {Title: r.say("paper.sitter.whom"), Share: 1},
		{Title: r.say("paper.table.what"), Share: 2.2}, {Title: r.say("paper.sitter.done"), Fixed: 14}, {Title: r.say("paper.table.note"), Share: 1}}}
	for _, task := range r.Tasks { // each with its day, which a page that is turned does not part from it
		what := Cell{Text: r.task(task)}
		if task.Level >= knowledge.EmergencyToday {
			what.Sign = Triangle
		}
		t.Rows = append(t.Rows, []Cell{{Text: r.text.Day(task.Day)}, {Text: r.brief("paper.long.name", task.Whom, longestTitle)}, what, {Draw: toTick, Words: "[ ]"}, {}})
	}
	return append(blocks, t)
}

// task is what is to be done, and what is to be heeded with it.
func (r sitter) task(t Task) string {
	said := Strong(r.say("due.job." + string(t.Job)))
	if finds := r.whys(t.For, t.Why); finds != "" {
		said += ": " + finds
	}
	if t.Late {
		said += " " + r.say("paper.sitter.late")
	}
	if t.Again {
		said += " " + r.say("paper.sitter.again")
	}
	if level := t.grave(); level > knowledge.Nothing {
		said += "\n" + r.urgency(level)
	}
	if t.Dose != nil {
		said += "\n" + t.Dose.words(r.text, r.Tables)
	}
	if t.Caution != "" && t.Caution != restCaution {
		said += "\n" + r.say(t.Caution)
	}
	return said
}

// homes is who lives where and eats what.
func (r sitter) homes() []Block {
	if len(r.Homes) == 0 {
		return nil
	}
	t := Table{Columns: []Column{{Title: r.say("paper.sitter.whom"), Share: 1.1, Style: subStyle}, {Title: r.say("paper.sitter.where"), Share: 1.3},
		{Title: r.say("paper.sitter.eats"), Share: 1.6}, {Title: r.say("paper.sitter.heed"), Share: 1.4}}}
	for _, h := range r.Homes {
		name := r.brief("paper.long.name", h.Animal.Name, longestTitle)
		if h.Animal.Code != "" {
			name += " · " + r.brief("paper.long.code", h.Animal.Code, longestCode)
		}
		where := r.say("paper.sitter.where-unknown")
		if h.Where != "" {
			where = Clean(h.Where)
		}
		t.Rows = append(t.Rows, []Cell{{Text: name}, {Text: where}, {Text: r.eats(h)}, {Text: r.heed(h)}})
	}
	return []Block{Heading{Level: 2, Text: r.say("paper.sitter.homes")}, t}
}

// eats is the last meal that was taken.
func (r sitter) eats(h Home) string {
	if h.Fed == 0 {
		return r.say("paper.sitter.eats-unknown")
	}
	words := r.prey(h.Meal)
	if !h.Meal.Each.IsZero() {
		words = strings.TrimPrefix(words+", "+r.text.Mass(h.Meal.Each), ", ")
	}
	if words == "" {
		words = r.say("paper.sitter.eats-unsaid")
	}
	return words + "\n" + r.say("paper.sitter.eaten", gaps{"Day": h.Fed})
}

func (r sitter) heed(h Home) string {
	var words []string
	switch {
	case h.Level >= knowledge.EmergencyToday:
		words = append(words, r.urgency(h.Level))
	case h.grave():
		words = append(words, r.say("paper.sitter.heed-vet"))
	}
	for _, of := range h.Detected {
		words = append(words, r.say("paper.tests.detected-in", gaps{"Agent": r.say("agent." + string(of))}))
	}
	for _, of := range h.Near {
		words = append(words, r.say("paper.sitter.heed-near", gaps{"Agent": r.say("agent." + string(of))}))
	}
	if h.Quarantined {
		words = append(words, r.say("paper.sitter.heed-quarantine"))
	}
	if h.Apart || h.Quarantined || len(h.Detected)+len(h.Near) > 0 {
		words = append(words, Strong(r.say("paper.sentence.apart")))
	}
	if h.Rest >= r.From {
		words = append(words, r.say("paper.sitter.heed-rest", gaps{"Day": h.Rest}))
	}
	return strings.Join(words, "\n")
}
