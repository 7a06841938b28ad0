package paper

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/exam"
	"coilward/model/history"
	"coilward/model/knowledge"
)

// HealthRecord is the health record of one animal: what is known beside what is
// not known or not looked at, with equal rank, and what that rests on. It gives
// no verdict on the animal's health and no promise.
func HealthRecord(f Facts, text Text, size Size) Document {
	now := f.Standing()
	r := record{Facts: f, text: text, now: now, all: f.standings(now), long: &[][2]string{}}
	name := r.brief("paper.long.name", f.Animal.Name, longestTitle)
	foot := name
	if f.Animal.Code != "" {
		foot += " · " + r.brief("paper.long.code", f.Animal.Code, longestCode)
	}
	d := Document{
		Title:      text.Say("paper.record.title", gaps{"Name": name}),
		Subject:    text.Say("paper.record.issued", gaps{"Day": f.Issued.Day()}),
		Language:   text.Language(),
		Version:    cut(Clean(f.Version), longestCode),
		Size:       size,
		FootLeft:   foot,
		FootMiddle: text.Say("paper.record.foot", gaps{"Day": f.Issued.Day(), "Version": cut(Clean(f.Version), longestCode)}),
		PageOf: func(page, total int) string {
			return text.Say("paper.page-of", gaps{"Page": page, "Total": total})
		},
		Sections: []Section{{Name: text.Say("paper.record.kicker"), Fit: true, Blocks: r.summary(roomy)}},
	}
	if len(flow(d, d.Sections[0], atEase)) > 1 {
		d.Sections[0].Blocks = r.summary(tight)
	}
	if len(Layout(d)) > 1 { // all of it stands behind
		d.Sections[0].Blocks = r.summary(crowded)
	}
	d.Sections = append(d.Sections, Section{Name: text.Say("paper.record.evidence"), Blocks: r.evidence()})
	return d.tellingMissing(text)
}

type gaps = map[string]any

// record is the facts with what is needed to word them.
type record struct {
	Facts
	text Text
	now  history.Standing
	all  []standing
	room room
	long *[][2]string // what was cut on the first page: what it is, and all of it
}

// room is how much of it the first page has.
type room uint8

// The rooms of the first page.
const (
	roomy   room = iota // with the chances as bars
	tight               // with the chances in lines beside each other
	crowded             // without what stands behind it too
)

// atEase is how small figures and type may be for the first page to be roomy.
var atEase = scale{.96, .25}

// How many signs of what somebody typed stand on the first page; all of it
// stands behind.
const (
	longestTitle = 70
	longestCode  = 24
	longestFact  = 110
)

// brief is what somebody typed, in one line and cut where it is long; what was
// cut is kept to be printed in full behind.
func (r record) brief(key, typed string, most int) string {
	clean := strings.Join(strings.Fields(Clean(typed)), " ")
	short := cut(clean, most)
	if full := [2]string{r.say(key), Clean(typed)}; short != clean && !slices.Contains(*r.long, full) {
		*r.long = append(*r.long, full)
	}
	return short
}

// cut is the first signs of a text, whole words where they are not long ones, with …
// where some are missing.
func cut(s string, most int) string {
	letters := []rune(s)
	if len(letters) <= most {
		return s
	}
	letters = letters[:most-1]
	for i := len(letters) - 1; i > most*3/4; i-- {
		if unicode.IsSpace(letters[i]) {
			letters = letters[:i]
			break
		}
	}
	return strings.TrimRight(string(letters), " ") + "…"
}

func (r record) say(key string, g ...map[string]any) string { return r.text.Say(key, g...) }

// lower is the text of a key as it stands inside a sentence, for texts that are
// no nouns.
func (r record) lower(key string) string {
	first, size := utf8.DecodeRuneInString(r.say(key))
	return string(unicode.ToLower(first)) + r.say(key)[size:]
}

// pair is a statement with its subject set strong.
func (r record) pair(key, statement string) string {
	return Strong(r.say(key)) + " " + statement
}

// summary is the first page; the less room it has, the shorter it says what stands behind
// it too.
func (r record) summary(room room) []Block {
	r.room = room
	blocks := []Block{r.head(), Space(1), Paragraph{r.sentence(), sayStyle}, Rule{Ink, .25}, r.drawings()}
	if len(r.all) > 0 {
		blocks = append(blocks, r.findings())
	}
	blocks = append(blocks,
		Columns{Shares: []float64{1, 1}, Gap: 8, Rule: true, Parts: [][]Block{
			{Heading{Level: 2, Text: r.say("paper.known")}, List{Dot, r.known(), smallInk}},
			{Heading{Level: 2, Text: r.say("paper.unknown")}, List{HollowDia, r.unknown(), smallInk}},
		}},
		Rule{Ink, .25})
	if chances := r.provesBriefly(); len(chances) > 0 {
		blocks = append(append(blocks, chances...), Rule{Ink, .25})
	}
	end := Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{
		{Paragraph{r.issued(), smallStyle}},
		{Paragraph{Strong(r.say("paper.caution.head")) + " " + r.say("paper.caution.text"), smallStyle}},
	}}
	if code, err := codeOf(r.Seal.Code); r.Seal.Code != "" && err == nil {
		words := r.say("paper.seal", gaps{"Key": r.Seal.Fingerprint})
		end.Shares, end.Parts = []float64{1, 1, .95}, append(end.Parts, []Block{Columns{Shares: []float64{sealSide, 27}, Gap: 3, Parts: [][]Block{
			{Figure{H: sealSide, Min: sealSide, Draw: code.draw, Words: r.Seal.Code}}, {Paragraph{words, smallStyle}}}}})
	}
	return append(blocks, end, Signatures{r.say("paper.sign.keeper"), r.say("paper.sign.next"), r.say("paper.sign.vet")})
}

// sealSide is how wide the QR code of a key is, with its quiet zone, in millimetres.
const sealSide = 22

// head is the animal's identity: picture, name, what it is, chip.
func (r record) head() Block {
	words := []Block{
		Paragraph{r.say("paper.record.kicker"), smallBold.In(Accent)},
		Paragraph{r.brief("paper.long.name", r.Animal.Name, longestTitle), nameStyle},
		Paragraph{r.identity(), textStyle.In(Ink2)},
		r.chips(),
	}
	if len(r.Portrait.JPEG) == 0 {
		return Columns{Shares: []float64{1}, Parts: [][]Block{words}}
	}
	return Columns{Shares: []float64{32, 136}, Gap: 6, Parts: [][]Block{
		{Figure{H: 32, Words: r.say("paper.photo.portrait"), Draw: picture(r.Portrait)}}, words}}
}

// identity is species, sex and how it is known, age and the last weight.
func (r record) identity() string {
	a := r.Animal
	parts := []string{r.species(), r.sex()}
	if a.Hatched.IsZero() {
		parts = append(parts, r.say("paper.hatched.unknown"))
	} else {
		parts = append(parts, r.say("paper.hatched", gaps{"Date": a.Hatched}))
	}
	if a.Morph != "" {
		parts = append(parts, r.brief("paper.long.morph", a.Morph, longestFact))
	}
	if n := len(r.Weights); n > 0 {
		last := r.Weights[n-1]
		parts = append(parts, r.say("paper.weighed", gaps{"Mass": r.mass(last), "Day": last.At.Day()}))
	}
	line := strings.Join(parts, ", ")
	if a.Status != animals.Kept && a.Status != "" {
		line += "\n" + r.status()
	}
	return line
}

func (r record) status() string {
	word := r.say("animals.status." + string(r.Animal.Status))
	if r.Animal.StatusDay.IsZero() {
		return r.say("paper.status", gaps{"Status": word})
	}
	return r.say("paper.status.since", gaps{"Status": word, "Date": r.Animal.StatusDay})
}

func (r record) species() string {
	s, ok := r.Tables.Species(r.Animal.Species)
	switch {
	case r.Animal.Species == "":
		return r.say("paper.species.unknown")
	case ok && s.Latin != "":
		return Species(s.Latin)
	case ok:
		return r.say("species." + string(r.Animal.Species))
	}
	return r.brief("paper.long.species", string(r.Animal.Species), longestFact)
}

func (r record) sex() string {
	a := r.Animal
	sign := map[animals.Sex]string{animals.Female: "♀ ", animals.Male: "♂ "}[a.Sex]
	key := "animals.sex." + string(a.Sex)
	if a.Sex == animals.SexUnknown {
		return r.say("paper.sex.unknown")
	}
	if a.SexHow == animals.HowUnknown {
		return sign + r.say(key) + " " + r.say("paper.sex.how-unknown")
	}
	return sign + r.say(key) + " " + r.say("paper.sex.how", gaps{"How": r.say("animals.sex-how." + string(a.SexHow))})
}

func (r record) chips() Block {
	a := r.Animal
	var out Chips
	add := func(sign Sign, s string) { out = append(out, Chip{s, sign}) }
	if a.Code != "" {
		add(NoSign, r.brief("paper.long.code", a.Code, longestCode))
	}
	if !a.Chip.IsZero() {
		key := "paper.chip"
		if a.Chip.Standard == animals.ChipOther {
			key = "paper.chip.other"
		}
		add(NoSign, r.say(key, gaps{"Digits": grouped(r.brief("paper.long.chip", a.Chip.Digits, 2*longestCode))}))
		if !a.Chip.LastRead.IsZero() {
			add(Tick, r.say("paper.chip.read", gaps{"Date": a.Chip.LastRead}))
		}
	}
	if a.Source != animals.SourceNone {
		add(NoSign, r.say("paper.source", gaps{"Code": string(a.Source), "Words": r.say("animals.source." + string(a.Source))}))
	}
	if len(out) == 0 {
		add(HollowDia, r.say("paper.chip.none"))
	}
	return out
}

// grouped writes digits in threes, which do not part at the end of a line.
func grouped(digits string) string {
	if len(digits)%3 != 0 || strings.Trim(digits, "0123456789") != "" {
		return digits
	}
	var parts []string
	for ; digits != ""; digits = digits[3:] {
		parts = append(parts, digits[:3])
	}
	return strings.Join(parts, "\u00a0")
}

// sentence says what stands, the gravest first: emergencies, what is for a vet
// and by when, what went without a vet's word, what is to be looked at again.
func (r record) sentence() string { return strings.Join(r.sentences(), " ") }

func (r record) sentences() []string {
	said := r.emergencies()
	detections := r.detections()
	if len(detections) > 0 {
		said = append(append(said, detections...), r.say("paper.tests.apart"))
	}
	said = append(said, r.openPositives()...)
	said = append(said, r.inQuarantine()...)
	if n := r.open(knowledge.VetWithinDays); n > 0 {
		said = append(said, r.text.Count("paper.sentence.vet", n))
	}
	said = append(said, r.withoutWord()...)
	if entries := r.fromEntries(knowledge.VetWithinDays); entries != "" {
		said = append(said, r.say("paper.sentence.entries", gaps{"Findings": entries}))
	}
	if by, wanted := r.now.VetBy(); wanted {
		key := "paper.sentence.vet-by"
		if by < r.Issued.Day() {
			key = "paper.sentence.vet-late"
		}
		said = append(said, r.say(key, gaps{"Day": by}))
	}
	if r.now.Apart() && len(detections) == 0 {
		said = append(said, r.say("paper.sentence.apart"))
	}
	if r.now.Loss.Level > knowledge.Nothing {
		said = append(said, r.loss(r.now.Loss))
	}
	if u := r.now.Unfed; !u.IsZero() {
		said = append(said, r.say(unfedKey(u), gaps{"Day": u.Since}))
	}
	if b := r.now.Breathing; !b.IsZero() {
		said = append(said, r.say("paper.sentence.breathing", gaps{"Day": b.At.Day()}))
	}
	if n := r.open(knowledge.LookAgain) + r.open(knowledge.Nothing); n > 0 {
		said = append(said, r.text.Count("paper.sentence.look", n))
	}
	if entries := r.fromEntries(knowledge.LookAgain); entries != "" {
		said = append(said, r.say("paper.sentence.entries-look", gaps{"Findings": entries}))
	}
	switch {
	case len(r.counted()) == 0:
		said = append(said, r.say("paper.sentence.never"))
	case len(said) == 0:
		said = append(said, r.say("paper.sentence.none"))
	}
	return append(said, r.say("paper.sentence.beside"))
}

// open counts the open problems of a level that are not the animal's own.
func (r record) open(level knowledge.Level) int {
	n := 0
	for _, s := range r.all {
		if s.Open() && !s.quiet() && s.level == level {
			n++
		}
	}
	return n
}

func (r record) emergencies() []string {
	var said []string
	for _, s := range r.all {
		if s.Open() && s.level == knowledge.EmergencyToday {
			said = append(said, r.say("paper.sentence.emergency", gaps{"Day": s.parts[0].Day, "Finding": r.what(s.StoredProblem)}))
		}
	}
	if entries := r.fromEntries(knowledge.EmergencyToday); entries != "" {
		said = append(said, r.say("paper.sentence.entries-emergency", gaps{"Findings": entries}))
	}
	for _, cut := range r.Chilled {
		said = append(said, r.say("paper.chilled", gaps{"Day": cut.Until.Day(), "Temperature": r.text.Temperature(*cut.Coldest)}))
	}
	return said
}

// withoutWord names what was for the vet and went with no vet having said a word.
func (r record) withoutWord() []string {
	var said []string
	for _, s := range r.all {
		if !s.Open() && s.level > knowledge.NoAction {
			said = append(said, r.say("paper.sentence.gone", gaps{"Finding": r.what(s.StoredProblem), "Day": s.Last().At.Day()}))
		}
	}
	return append(said, r.entriesWithoutWord()...)
}

// entriesWithoutWord are the sentences of what everyday entries told for the vet
// and is gone, with no vet having said a word.
func (r record) entriesWithoutWord() []string {
	var said []string
	for _, p := range r.now.Parts {
		if p.From != history.FromGone || !p.Noted() {
			continue
		}
		for _, sign := range p.Verdict.Signs {
			said = append(said, r.say("paper.sentence.gone", gaps{"Finding": r.say("finding." + string(sign.What)), "Day": p.Gone}))
		}
	}
	return said
}

// fromEntries names what everyday entries tell that still stands at a level, each
// sign by its own.
func (r record) fromEntries(level knowledge.Level) string {
	var names []string
	for _, p := range r.now.Parts {
		if p.From != history.FromEntry {
			continue
		}
		for i, sign := range p.Verdict.Signs {
			if p.Verdict.Of(i) == level {
				names = append(names, r.say("paper.gone.one", gaps{"Finding": r.say("finding." + string(sign.What)), "Day": p.Day}))
			}
		}
	}
	return strings.Join(names, ", ")
}

// what is a finding with its place, such as "Stuck shed, tail, right".
func (r record) what(p exam.StoredProblem) string {
	finding := r.say("finding." + string(p.What))
	if p.What == knowledge.Other && p.Last().Note != "" {
		finding = shorten(smallInk, Clean(strings.ReplaceAll(p.Last().Note, "\n", " ")), 60)
	}
	if p.Last().Rough {
		return finding + ", " + r.say("paper.where.rough", gaps{"Stop": r.within(p.Stop)})
	}
	return finding + ", " + r.where(p.Stop, p.Last().Place)
}

// within is the name of a stop as it stands inside a sentence.
func (r record) within(stop knowledge.StopID) string { return r.say("paper.stop." + string(stop)) }

// where is a stop, with how far along where that is known, or the whole animal.
func (r record) where(stop knowledge.StopID, p body.Place) string {
	if p.Whole() {
		return r.say("zone.whole")
	}
	words := gaps{"Stop": r.within(stop), "Percent": p.Percent()}
	if side := p.Side(); side != "" {
		words["Side"] = r.say("side." + string(side))
	}
	switch {
	case p.Part == body.Trunk && words["Side"] == words["Stop"]: // the belly is the belly's side
		return r.say("paper.where.along", words)
	case p.Part == body.Trunk:
		return r.say("paper.where.trunk", words)
	case p.Part == body.Tail:
		return r.say("paper.where.tail", words)
	}
	return r.within(stop)
}

// drawings are the views that matter: the two of the whole animal, and those of
// head and mouth on which something stands.
func (r record) drawings() Block {
	least := 22.0
	if r.room == crowded {
		least = 14
	}
	var full Block = Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{
		{r.view(body.Above, 44, least)}, {r.view(body.Underside, 44, least)}}}
	if r.Organs {
		full = Keep{full, r.organs()}
	}
	var close []body.ViewID
	for _, v := range []body.ViewID{body.HeadAbove, body.HeadLeft, body.HeadRight, body.OpenMouth} {
		if len(r.pins(v, true)) > 0 {
			close = append(close, v)
		}
	}
	if len(close) == 0 {
		return full
	}
	head := Columns{Gap: 6}
	for _, v := range close {
		head.Shares = append(head.Shares, 1)
		head.Parts = append(head.Parts, []Block{r.view(v, 34, 24)})
	}
	if len(close) == 1 { // one alone stays small, beside nothing
		head.Shares, head.Parts = append(head.Shares, 2), append(head.Parts, nil)
	}
	return Keep{full, head}
}

// organs say the letters of the layer, with how far along each organ lies.
func (r record) organs() Block {
	var words []string
	for i, o := range body.Organs() {
		words = append(words, Strong(organLetter(i))+"\u00a0"+r.say("paper.organs.one", gaps{"Organ": r.say("organ." + o.ID), "From": o.From, "To": o.To}))
	}
	return Paragraph{r.say("paper.organs", gaps{"Organs": strings.Join(words, ", ")}), smallStyle}
}

func (r record) view(v body.ViewID, height, least float64) Block {
	pins := r.pins(v, false)
	title := r.say("paper.view." + string(v))
	words := title
	for _, p := range pins {
		words += " " + numberWords(p.number, p.filled)
	}
	return Figure{H: height, Min: least, Words: words, Draw: bodyView(v, title, pins, body.Options{Net: body.CoarseNet, Organs: r.Organs})}
}

// pins are the findings that a view shows, but for those that nobody pointed
// to; own asks for those placed on that very view only.
func (r record) pins(v body.ViewID, own bool) []pin {
	var out []pin
	for _, s := range r.all {
		place := s.Last().Place
		if s.number > 0 && !s.Last().Rough && hasPlace(v, place) && (!own || place.View == v) {
			out = append(out, pin{s.number, place, !s.quiet()})
		}
	}
	return out
}

// mostListed is how many findings of a kind page 1 lists; all stand behind it.
const mostListed = 6

// findings are the open ones beside the quiet ones and what is gone.
func (r record) findings() Block {
	var open, quiet [][]Cell
	var gone []string
	for _, s := range r.all {
		switch {
		case !s.Open():
			gone = append(gone, r.goneWords(s))
		case s.quiet():
			quiet = append(quiet, r.findingRow(s))
		default:
			open = append(open, r.findingRow(s))
		}
	}
	if n := len(gone); n > 0 {
		quiet = append(quiet[:min(len(quiet), mostListed)], []Cell{{Sign: Diamond, Text: "\u00a0"},
			{Text: Strong(r.say("paper.gone")) + "\n" + strings.Join(gone[max(0, n-mostListed):], ", ") + r.more(n)}})
	}
	return Columns{Shares: []float64{1, 1}, Gap: 8, Parts: [][]Block{
		r.findingList("paper.open", "paper.open.none", open), r.findingList("paper.quiet", "paper.quiet.none", quiet)}}
}

func (r record) goneWords(s standing) string {
	words := r.say("paper.gone.one", gaps{"Finding": r.say("finding." + string(s.What)), "Day": s.Last().At.Day()})
	if by, wanted := r.vetBy(s); wanted {
		words += " " + r.vetOn(by)
	}
	if s.peak == knowledge.EmergencyToday && s.Last().Standing != exam.Closed {
		words += " (" + r.say("paper.gone.emergency", gaps{"Day": s.peakOn}) + ")"
	}
	if until, watched := r.mitesUntil(); watched && until > 0 && s.What == mites {
		words += " (" + r.say("paper.gone.watched", gaps{"Day": until}) + ")"
	}
	return words
}

// vetOn says by when a vet should see the animal, or since when that is overdue
// on the day of the paper.
func (r record) vetOn(by model.Day) string {
	if by < r.Issued.Day() {
		return r.say("paper.vet-late", gaps{"Day": by})
	}
	return r.say("paper.vet-by", gaps{"Day": by})
}

// vetBy is by when a vet should see a problem, if one should.
func (r record) vetBy(s standing) (by model.Day, wanted bool) {
	if len(s.parts) == 0 {
		return 0, false
	}
	return s.parts[0].Verdict.VetBy()
}

func (r record) more(n int) string {
	if n <= mostListed {
		return ""
	}
	return "; " + r.text.Count("paper.more", n-mostListed)
}

func (r record) findingList(title, none string, rows [][]Cell) []Block {
	blocks := []Block{Heading{Level: 3, Text: r.say(title)}}
	if len(rows) == 0 {
		return append(blocks, Paragraph{r.say(none), smallStyle})
	}
	t := Table{Bare: true, Columns: []Column{{Fixed: 2.6}, {Share: 1, Style: smallInk}}, Rows: rows[:min(len(rows), mostListed+1)]}
	if len(rows) > mostListed+1 {
		t.Note = r.text.Count("paper.more", len(rows)-mostListed-1)
	}
	return append(blocks, t)
}

// findingRow is one finding: number, what, where, and how it stands.
func (r record) findingRow(s standing) []Cell {
	return []Cell{numberCell(s.number, !s.quiet()), {Text: Strong(r.what(s.StoredProblem)) + "\n" + r.course(s)}}
}

// course is how bad, how large, since when, and what the tables ask for.
func (r record) course(s standing) string {
	last := s.Last()
	parts := []string{r.lower("grade." + last.Grade.String())}
	if last.Grade == exam.Ungraded {
		parts = parts[:0]
	}
	if !last.Size.IsZero() {
		parts = append(parts, r.text.Length(last.Size))
	}
	if len(s.Glimpses) > 1 && last.Standing != exam.Unasked {
		parts = append(parts, r.lower("standing."+string(last.Standing))+" "+r.say("paper.on", gaps{"Day": last.At.Day()}))
	}
	parts = append(parts, r.say("paper.since", gaps{"Day": s.First().At.Day()}))
	if s.Baseline {
		parts = append(parts, r.say("paper.baseline"))
	}
	return strings.Join(parts, ", ") + r.asks(s)
}

// asks is what the tables ask for, by when, and on which day they said so.
func (r record) asks(s standing) string {
	if len(s.parts) == 0 {
		return ""
	}
	part := s.parts[0]
	words := "; " + r.say("paper.asks."+s.level.String())
	if !s.Open() {
		words += ", " + r.say("paper.gone.no-word")
	}
	if by, wanted := part.Verdict.VetBy(); wanted && s.level >= knowledge.VetWithinDays {
		return words + ", " + r.vetOn(by) + r.saidOn(part, by)
	}
	due := part.Verdict.Due()
	if i := slices.IndexFunc(due, func(o exam.Obligation) bool { return o.Kind == exam.LookThere }); i >= 0 && s.level == knowledge.LookAgain {
		return "; " + r.say("paper.again", gaps{"Day": due[i].By}) + r.saidOn(part, due[i].By)
	}
	return words + r.saidOn(part, 0)
}

// saidOn tells on which day a part was said, and that it was said again where the
// day that it names was before.
func (r record) saidOn(p history.Part, by model.Day) string {
	key := "paper.said-on"
	if by > 0 && by < p.Day {
		key = "paper.said-again"
	}
	return " (" + r.say(key, gaps{"Day": p.Day}) + ")"
}

// issued tells from which records, by which version and table, when and in which
// zone the paper was made.
func (r record) issued() string {
	at := r.Issued
	if r.WithoutZone {
		at = model.Moment{UTC: at.UTC}
	}
	words := issuedBy(at, r.Version, r.Tables)
	if r.Entries == 0 {
		return Strong(r.say("paper.issued.head")) + " " + r.say("paper.issued.nothing", words)
	}
	words["First"], words["Last"] = r.First, r.Last
	return Strong(r.say("paper.issued.head")) + " " + r.text.Count("paper.issued.from", r.Entries, words) + r.otherTables()
}

// issuedBy is when and in which zone, and by which version and tables.
func issuedBy(at model.Moment, version string, tables *knowledge.Tables) gaps {
	zone := cut(Clean(at.Zone), 2*longestCode)
	offset := at.Offset / 60
	sign := "+"
	if offset < 0 {
		sign, offset = "−", -offset
	}
	utc := fmt.Sprintf("UTC%s%d:%02d", sign, offset/60, offset%60)
	if zone == "" {
		zone = utc
	} else {
		zone += " (" + utc + ")"
	}
	return gaps{"Day": at.Day(), "Time": at.Time().Format("15:04"), "Zone": zone, "Version": cut(Clean(version), longestCode), "Hash": shortHash(tables.Hash())}
}

// otherTables says that some check was judged by tables other than today's.
func (r record) otherTables() string {
	n := 0
	for _, c := range r.Checks {
		if c.Verdict.Tables != "" && c.Verdict.Tables != r.Tables.Hash() {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return " " + r.text.Count("paper.issued.other-tables", n)
}

// shortHash is the beginning of a hash, in fours.
func shortHash(hash string) string {
	if len(hash) < 12 {
		return hash
	}
	return hash[:4] + "\u00a0" + hash[4:8] + "\u00a0" + hash[8:12]
}

func picture(p Photo) Draw {
	return func(c Canvas, b Box) {
		// as large as it goes, at the upper left
		k := min(b.W()/float64(max(p.Width, 1)), b.H()/float64(max(p.Height, 1)))
		q := Box{b.X0, b.Y0, b.X0 + k*float64(p.Width), b.Y0 + k*float64(p.Height)}
		c.Picture(string(p.ID), p.JPEG, q)
		c.Path(q.Path(), Paint{Stroke: Line, Width: .15})
	}
}

// day is a moment's day, for a gap.
func day(m model.Moment) model.Day { return m.Day() }
