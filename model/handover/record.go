package handover

import (
	"encoding/json"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// Form is the newest form of a record. A newer one is refused with model.ErrNewer.
const Form = 1

// mostObjects is how many objects and elements of lists a record may have, whatever they are.
const mostObjects = 16 * MaxList

// Limits of a record: no animal that was ever kept comes near them.
const (
	MaxList  = 50_000 // of each list
	MaxHands = 500    // of people
	MaxName  = 200    // characters of a line that somebody typed
	MaxBody  = 16_384 // bytes of what one entry says
)

// Record is what is told of one animal. Lists run from the oldest to the newest.
// No notes, addresses, places, phone numbers or people who are marked private
// stand in it, and no zone of a clock.
type Record struct {
	Form    int     `json:"form"`
	Animal  Animal  `json:"animal"`
	Issued  Issued  `json:"issued"`
	Hands   []Hand  `json:"hands,omitempty"` // those who did what is told, unless they are private
	Entries []Entry `json:"entries,omitempty"`
	Checks  []Check `json:"checks,omitempty"`

	Problems    []Problem    `json:"problems,omitempty"`
	Samples     []Sample     `json:"samples,omitempty"`
	Quarantines []Quarantine `json:"quarantines,omitempty"`
	Photos      []Photo      `json:"photos,omitempty"`
	// Courses of medicine, and visits to a vet that were held, of which only the paper tells.
	Courses int `json:"courses,omitempty"`
	Visits  int `json:"visits,omitempty"`
	// Unread are the records that the program which made this one could not read.
	Unread int `json:"unread,omitempty"`
}

// Animal is who the animal is. Its id is the same in every collection.
type Animal struct {
	ID       model.AnimalID      `json:"id"`
	Name     string              `json:"name"`
	Species  knowledge.SpeciesID `json:"species,omitempty"`
	Sex      animals.Sex         `json:"sex,omitempty"`
	SexHow   animals.SexHow      `json:"sexHow,omitempty"`
	Hatched  model.Date          `json:"hatched,omitzero"`
	Morph    string              `json:"morph,omitempty"`
	Source   animals.SourceCode  `json:"source,omitempty"`
	Chip     animals.Chip        `json:"chip,omitzero"`
	Length   int64               `json:"length_tenth_mm,omitempty"` // snout to vent
	Measured model.Date          `json:"measured,omitzero"`
}

// Issued tells when a record was made, by which version and which tables.
type Issued struct {
	UTC     int64     `json:"utc"` // seconds since 1970: of two records the later one holds
	Day     model.Day `json:"day"`
	Program string    `json:"program"`
	Tables  string    `json:"tables"` // hash
}

// last is the later one of the day and the day of the seconds in UTC.
func (i Issued) last() model.Day {
	const aDay = 24 * 60 * 60
	return max(i.Day, model.Day(min(max(i.UTC, 0)/aDay, int64(model.NewDay(9999, 12, 31)))))
}

// When is a day, and the minute after its midnight where that is known, by the
// clock on the wall where the animal lived.
type When struct {
	Day       model.Day       `json:"day"`
	Minute    int             `json:"minute,omitempty"`
	Precision model.Precision `json:"precision"`
}

// Hand is somebody who did what is told.
type Hand struct {
	ID   model.PersonID `json:"id"`
	Name string         `json:"name"`
}

// Entry is one entry of everyday care. The body is that of a dump, without note,
// photos, scale and batch of feeders.
type Entry struct {
	ID   model.EntryID   `json:"id"`
	Kind string          `json:"kind"`
	When When            `json:"when"`
	By   model.PersonID  `json:"by,omitzero"`
	Body json.RawMessage `json:"body"`
	// Doubtful is that a weight was taken on a scale that failed its check.
	Doubtful bool `json:"doubtful,omitempty"`
}

// Check is one head-to-tail check.
type Check struct {
	ID       model.EntryID   `json:"id"`
	When     When            `json:"when"`
	By       model.PersonID  `json:"by,omitzero"`
	Extent   exam.Extent     `json:"extent"`
	Stops    []Stop          `json:"stops"`
	Findings []Found         `json:"findings,omitempty"` // that were there
	Level    knowledge.Level `json:"level,omitempty"`    // what the tables of that day asked for
	VetBy    model.Day       `json:"vetBy,omitzero"`
	Tables   string          `json:"tables,omitempty"`
}

// Stop is one stop of a check with its answer.
type Stop struct {
	Stop knowledge.StopID `json:"stop"`
	Look exam.Look        `json:"look,omitempty"`
}

// Found is a finding as it was seen once.
type Found struct {
	What     knowledge.FindingID `json:"what"`
	Stop     knowledge.StopID    `json:"stop"`
	Standing exam.Standing       `json:"standing"`
	Grade    exam.Grade          `json:"grade,omitempty"`
	Place    body.Place          `json:"place"`
	Rough    bool                `json:"rough,omitempty"`
	Size     int64               `json:"size_tenth_mm,omitempty"`
	Own      bool                `json:"own,omitempty"` // this animal's own since it is known
}

// Problem is the course of one finding.
type Problem struct {
	Found      // as it was last seen
	Since When `json:"since"`
	Last  When `json:"last"`
}

// Sample is one sample and what was answered.
type Sample struct {
	ID       model.SampleID       `json:"id"`
	Taken    *When                `json:"taken,omitempty"` // without it: prepared only
	Material knowledge.MaterialID `json:"material"`
	For      []knowledge.AgentID  `json:"for"`
	Others   int                  `json:"others,omitempty"` // animals in the same pool
	Void     samples.Why          `json:"void,omitempty"`   // why nothing comes of it
	Lab      string               `json:"lab,omitempty"`    // its name, unless it is marked private
	Results  []Result             `json:"results,omitempty"`
}

// Result is one answer of a lab.
type Result struct {
	Of      knowledge.AgentID `json:"of"`
	Outcome samples.Outcome   `json:"outcome"`
	Method  knowledge.Method  `json:"method,omitempty"`
	When    When              `json:"when"`
	Report  string            `json:"report,omitempty"` // its number
}

// Quarantine is one quarantine, open where Released is nil.
type Quarantine struct {
	Arrived  When                 `json:"arrived"`
	Protocol knowledge.ProtocolID `json:"protocol"`
	Released *When                `json:"released,omitempty"`
	Lines    []Line               `json:"lines,omitempty"` // how each line stood at the release
}

// Line is one line of what a quarantine asked.
type Line struct {
	Item   quarantine.ItemID   `json:"item"`
	Agents []knowledge.AgentID `json:"agents,omitempty"`
	State  quarantine.State    `json:"state"`
	Have   int                 `json:"have"`
	Want   int                 `json:"want"`
}

// Photo is a photo that goes with the record, in the order of the file.
type Photo struct {
	When     When             `json:"when,omitzero"`
	Pose     knowledge.PoseID `json:"pose,omitempty"`
	Portrait bool             `json:"portrait,omitempty"`
}

// IsZero reports whether nothing is known of the time.
func (w When) IsZero() bool { return w == When{} }

// Moment is the time by the clock of the place where now is told.
func (w When) Moment(now model.Moment) model.Moment {
	if w.Precision == model.ToMinute {
		return model.MomentOn(now, w.Day, w.Minute, w.Precision)
	}
	return model.MomentOn(now, w.Day, model.Noon, w.Precision)
}

// whenOf leaves out zone and offset.
func whenOf(m model.Moment) When {
	w := When{Day: m.Day(), Precision: m.Precision}
	if w.Precision == "" {
		w.Precision = model.ToDay
	}
	if w.Precision == model.ToMinute {
		local := m.Time()
		w.Minute = local.Hour()*60 + local.Minute()
	}
	return w
}

// Read reads a record in its only form of bytes, and refuses what cannot stand.
// A record of a newer form is model.ErrNewer.
func Read(raw []byte) (Record, error) {
	if crowded(raw) { // before room is made for them
		return Record{}, fmt.Errorf("read the record: it has more than the %d objects and elements of lists that are read", mostObjects)
	}
	var form struct {
		Form int `json:"form"`
	}
	if err := json.Unmarshal(raw, &form); err != nil {
		return Record{}, fmt.Errorf("read the record: %w", err)
	}
	if form.Form > Form {
		return Record{}, fmt.Errorf("read the record (form %d, known up to %d): %w", form.Form, Form, model.ErrNewer)
	}
	var r Record
	if err := json.Unmarshal(raw, &r); err != nil {
		return Record{}, fmt.Errorf("read the record: %w", err)
	}
	if err := r.check(); err != nil {
		return Record{}, fmt.Errorf("read the record: %w", err)
	}
	again, err := r.Bytes()
	if err != nil {
		return Record{}, err
	}
	if string(again) != string(raw) {
		return Record{}, fmt.Errorf("read the record: it is not written in the one way of its form")
	}
	return r, nil
}

// crowded reports whether a record has more objects and elements of lists than may be. It
// looks at one byte after the other, since also a list of nothing but zeros makes room for
// what its elements should be. An object in a list counts once. What is no JSON may count
// for anything: it is refused after.
func crowded(raw []byte) bool {
	var inside []byte // the brackets that are open
	first := false    // whether the next value is the first of its list
	n := 0
	list := func() bool { return len(inside) > 0 && inside[len(inside)-1] == '[' }
	for at := 0; at < len(raw) && n <= mostObjects; at++ {
		b := raw[at]
		if b == ' ' || b == '\t' || b == '\n' || b == '\r' {
			continue
		}
		if first && b != ']' {
			n++
		}
		first = false
		switch b {
		case '"':
			for at++; at < len(raw) && raw[at] != '"'; at++ {
				if raw[at] == '\\' {
					at++
				}
			}
		case '[':
			inside, first = append(inside, b), true
		case '{':
			if !list() {
				n++
			}
			inside = append(inside, b)
		case ']', '}':
			inside = inside[:max(0, len(inside)-1)]
		case ',':
			if list() {
				n++
			}
		}
	}
	return n > mostObjects
}

// Bytes are the record in its only form: JSON with the fields in their order,
// and a line break at its end.
func (r Record) Bytes() ([]byte, error) {
	raw, err := json.Marshal(r)
	if err != nil {
		return nil, fmt.Errorf("write the record of %s: %w", r.Animal.Name, err)
	}
	return append(raw, '\n'), nil
}

// check refuses what no program of ours would have written, as far as something of
// it is shown or taken in. Ids of tables may be of a later table.
func (r Record) check() error {
	if r.Form < 1 {
		return fmt.Errorf("form %d", r.Form)
	}
	if r.Animal.ID.IsZero() || r.Animal.Name == "" {
		return fmt.Errorf("it names no animal")
	}
	if n := max(len(r.Hands), len(r.Entries), len(r.Checks), len(r.Problems), len(r.Samples), len(r.Quarantines), len(r.Photos)); n > MaxList {
		return fmt.Errorf("a list of %d: %w", n, mend("papers", "", "papers.excess-list", map[string]model.Gap{"Have": model.CountGap(n), "Most": model.CountGap(MaxList)}))
	}
	if len(r.Hands) > MaxHands {
		return fmt.Errorf("%d people, at most %d are read", len(r.Hands), MaxHands)
	}
	if min(r.Courses, r.Visits, r.Unread) < 0 {
		return fmt.Errorf("a number below 0")
	}
	for _, line := range r.lines() {
		if refusal := model.CheckLine("papers", line, MaxName); refusal != nil {
			return refusal
		}
	}
	for _, w := range r.whens() {
		if err := w.check(); err != nil {
			return err
		}
	}
	seen := map[model.ID]bool{r.Animal.ID.ID: true}
	once := func(id model.ID) error {
		if id.IsZero() || seen[id] {
			return fmt.Errorf("the id %s is missing or stands twice", id)
		}
		seen[id] = true
		return nil
	}
	for _, h := range r.Hands {
		if err := once(h.ID.ID); err != nil {
			return err
		}
		if h.Name == "" {
			return fmt.Errorf("somebody without a name")
		}
	}
	hands := map[model.PersonID]bool{{}: true}
	for _, h := range r.Hands {
		hands[h.ID] = true
	}
	for _, e := range r.Entries {
		if err := once(e.ID.ID); err != nil {
			return err
		}
		if !hands[e.By] {
			return fmt.Errorf("entry %s is by somebody who is not told of", e.ID)
		}
		if e.Doubtful && e.Kind != care.KindWeight {
			return fmt.Errorf("entry %s of kind %q is doubtful, which only weights are", e.ID, e.Kind)
		}
		if len(e.Body) > MaxBody {
			return fmt.Errorf("entry %s has %d bytes, at most %d are read", e.ID, len(e.Body), MaxBody)
		}
		if _, err := e.Care(); err != nil {
			return err
		}
	}
	for _, c := range r.Checks {
		if err := once(c.ID.ID); err != nil {
			return err
		}
		if !hands[c.By] {
			return fmt.Errorf("check %s is by somebody who is not told of", c.ID)
		}
		if len(c.Stops) > MaxName || len(c.Findings) > MaxName {
			return fmt.Errorf("check %s has too many stops", c.ID)
		}
	}
	for _, s := range r.Samples {
		if err := once(s.ID.ID); err != nil {
			return err
		}
		if len(s.Results) > samples.MaxResults || len(s.For) > MaxName || s.Others < 0 {
			return fmt.Errorf("sample %s has too many results", s.ID)
		}
	}
	for _, q := range r.Quarantines {
		if len(q.Lines) > MaxName {
			return fmt.Errorf("a quarantine has too many lines")
		}
	}
	portraits := 0
	for _, p := range r.Photos {
		if p.Portrait {
			portraits++
		}
	}
	if portraits > 1 {
		return fmt.Errorf("%d portraits", portraits)
	}
	return nil
}

// lines are all texts of the record that stand on a line.
func (r Record) lines() []string {
	a := r.Animal
	all := []string{a.Name, string(a.Species), string(a.Sex), string(a.SexHow), a.Morph, string(a.Source), a.Chip.Digits, string(a.Chip.Standard), string(a.Chip.Site), r.Issued.Program, r.Issued.Tables}
	for _, h := range r.Hands {
		all = append(all, h.Name)
	}
	found := func(f Found) { all = append(all, string(f.What), string(f.Stop), string(f.Standing)) }
	for _, c := range r.Checks {
		all = append(all, string(c.Extent), c.Tables)
		for _, s := range c.Stops {
			all = append(all, string(s.Stop), string(s.Look))
		}
		for _, f := range c.Findings {
			found(f)
		}
	}
	for _, p := range r.Problems {
		found(p.Found)
	}
	for _, s := range r.Samples {
		all = append(all, string(s.Material), string(s.Void), s.Lab)
		for _, of := range s.For {
			all = append(all, string(of))
		}
		for _, result := range s.Results {
			all = append(all, string(result.Of), string(result.Outcome), string(result.Method), result.Report)
		}
	}
	for _, q := range r.Quarantines {
		all = append(all, string(q.Protocol))
		for _, l := range q.Lines {
			all = append(all, string(l.Item), string(l.State))
		}
	}
	for _, p := range r.Photos {
		all = append(all, string(p.Pose))
	}
	return all
}

// whens are all times of the record.
func (r Record) whens() (all []When) {
	for _, e := range r.Entries {
		all = append(all, e.When)
	}
	for _, c := range r.Checks {
		all = append(all, c.When)
	}
	for _, p := range r.Problems {
		all = append(all, p.Since, p.Last)
	}
	for _, s := range r.Samples {
		if s.Taken != nil {
			all = append(all, *s.Taken)
		}
		for _, result := range s.Results {
			all = append(all, result.When)
		}
	}
	for _, q := range r.Quarantines {
		all = append(all, q.Arrived)
		if q.Released != nil {
			all = append(all, *q.Released)
		}
	}
	for _, p := range r.Photos {
		if !p.When.IsZero() {
			all = append(all, p.When)
		}
	}
	return all
}

func (w When) check() error {
	if w.Minute < 0 || w.Minute >= 24*60 || w.Minute > 0 && w.Precision != model.ToMinute {
		return fmt.Errorf("minute %d of %s", w.Minute, w.Day)
	}
	if !slices.Contains([]model.Precision{model.ToMinute, model.ToDay, model.ToMonth, model.ToYear}, w.Precision) {
		return fmt.Errorf("precision %q of %s", w.Precision, w.Day)
	}
	if w.Day < model.NewDay(1900, 1, 1) || w.Day > model.NewDay(9999, 12, 31) {
		return fmt.Errorf("the day %s", w.Day)
	}
	return nil
}

// Care is what the entry says. One with a note, photos, a scale or a batch is
// refused: none of them means anything elsewhere.
func (e Entry) Care() (care.Body, error) {
	d := model.Document{Type: model.TypeEntry, ID: e.ID.ID, Kind: e.Kind, Version: care.Version, Body: e.Body}
	said, known, err := care.Decode(d)
	if err != nil {
		return nil, err
	}
	if !known {
		return nil, fmt.Errorf("entry %s of kind %q", e.ID, e.Kind)
	}
	if refusal := said.Check(); refusal != nil {
		return nil, refusal
	}
	shown, told := bare(said.Body)
	if !told {
		return nil, fmt.Errorf("entry %s of kind %q", e.ID, e.Kind)
	}
	raw, err := json.Marshal(shown)
	if err != nil {
		return nil, fmt.Errorf("write entry %s: %w", e.ID, err)
	}
	if string(raw) != string(e.Body) {
		return nil, fmt.Errorf("entry %s says more than it may, or not in the one way of its kind", e.ID)
	}
	return shown, nil
}

// bare is a body without what is private or means nothing elsewhere. told is false
// for words and pictures alone.
func bare(b care.Body) (said care.Body, told bool) {
	none := care.Beside{}
	switch b := b.(type) {
	case care.Weight:
		return care.Weight{Mass: model.Mass{Milligrams: b.Mass.Milligrams}, Gut: b.Gut}, true
	case care.Meal:
		b.Each.Typed, b.Batch, b.Beside = "", model.BatchID{}, none
		return b, true
	case care.Shed:
		b.Beside = none
		return b, true
	case care.Waste:
		b.Beside = none
		return b, true
	case care.MiteLook:
		b.Beside = none
		return b, true
	case care.MiteTreatment:
		b.Beside = none
		return b, true
	case care.Blue:
		b.Beside = none
		return b, true
	case care.Clutch:
		b.Beside = none
		return b, true
	case care.Bath:
		b.Warm.Typed, b.Beside = "", none
		return b, true
	case care.Fluids:
		b.Warm.Typed, b.Beside = "", none
		return b, true
	}
	return nil, false
}
