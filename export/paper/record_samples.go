package paper

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"coilward/model"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// Sampled is one sample of the animal.
type Sampled struct {
	samples.Sample
	At     model.Moment // when it was taken; before that, when it was prepared
	Others int          // how many other animals are in it
	Lab    string       // empty: not named
}

// detected are the things that were found in a sample.
func detected(s samples.Sample) []knowledge.AgentID {
	return slices.DeleteFunc(slices.Clone(s.For), func(of knowledge.AgentID) bool { return s.Outcome(of) != samples.Detected })
}

// detections are the things that were found in samples of each animal; unread is how
// many samples cannot be read.
func detections(v model.View) (found map[model.AnimalID][]knowledge.AgentID, unread int, err error) {
	all, illegible, err := samples.Legible(v)
	if err != nil {
		return nil, 0, err
	}
	found = map[model.AnimalID][]knowledge.AgentID{}
	for _, s := range all {
		for _, of := range detected(s.Sample) {
			for _, animal := range s.Animals {
				if !slices.Contains(found[animal], of) {
					found[animal] = append(found[animal], of)
				}
			}
		}
	}
	return found, len(illegible), nil
}

// detections names each thing that was detected, with its newest sample. A later
// sample in which it was not detected takes nothing back.
func (r record) detections() []string {
	var said []string
	told := map[knowledge.AgentID]bool{}
	backwards(r.Samples, func(s Sampled) {
		for _, of := range detected(s.Sample) {
			if told[of] {
				continue
			}
			told[of] = true
			words := gaps{"Agent": r.agent(of), "Day": s.At.Day(), "Material": r.material(s)}
			if s.Others > 0 {
				said = append(said, r.text.Count("paper.tests.sentence-pooled", s.Others, words))
			} else {
				said = append(said, r.say("paper.tests.sentence", words))
			}
		}
	})
	return said
}

func (r record) agent(of knowledge.AgentID) string { return r.say("agent." + string(of)) }

func (r record) material(s Sampled) string { return r.say("material." + string(s.Material)) }

// tested reports whether any sample was taken.
func (f Facts) tested() bool {
	return slices.ContainsFunc(f.Samples, func(s Sampled) bool { return !s.Taken.IsZero() })
}

// knownTests is what samples tell of each thing: the newest that was detected, and
// the newest that was not.
func (r record) knownTests() string {
	words, caution := r.testsTold()
	return strings.Join(filled(strings.Join(words, ", "), caution), "; ")
}

// knownTestsWithin is knownTests in about so many signs: no result is cut, what is too
// many is counted, and the caution stays.
func (r record) knownTestsWithin(signs int) string {
	words, caution := r.testsTold()
	n, long := 0, 0
	for n < len(words) && (n == 0 || long+utf8.RuneCountInString(words[n]) <= signs) {
		long += utf8.RuneCountInString(words[n]) + len(", ")
		n++
	}
	line := strings.Join(words[:n], ", ")
	if over := len(words) - n; over > 0 {
		line += ", " + r.text.Count("paper.vet.more", over)
	}
	return strings.Join(filled(line, caution), "; ")
}

// testsTold are the results that knownTests is made of, newest first, and what is said
// behind them where one found nothing.
func (r record) testsTold() (words []string, caution string) {
	type answer struct {
		of      knowledge.AgentID
		outcome samples.Outcome
	}
	told := map[answer]bool{}
	backwards(r.Samples, func(s Sampled) {
		for _, of := range s.For {
			said := answer{of, s.Outcome(of)}
			if s.LookedThrough(of) && !told[said] {
				told[said] = true
				words = append(words, r.testWords(s, of))
			}
		}
	})
	for said := range told {
		if said.outcome == samples.NotDetected {
			return words, r.say("paper.tests.not-excluded")
		}
	}
	return words, ""
}

// unansweredTests are the things whose newest sample tells nothing.
func (r record) unansweredTests() string {
	var words []string
	told := map[knowledge.AgentID]bool{}
	backwards(r.Samples, func(s Sampled) {
		for _, of := range s.For {
			if told[of] || s.Taken.IsZero() {
				continue
			}
			if told[of] = true; !s.LookedThrough(of) {
				words = append(words, r.testWords(s, of))
			}
		}
	})
	return strings.Join(words, ", ")
}

// testWords is what one sample tells of one thing, such as "Serpentovirus not
// detected (3 March 2027)".
func (r record) testWords(s Sampled, of knowledge.AgentID) string {
	key := "paper.tests.one"
	if s.Others > 0 {
		key = "paper.tests.one-pooled"
	}
	return r.say(key, gaps{"Agent": r.agent(of), "Outcome": r.outcomeOf(s, of), "Day": s.At.Day()})
}

// outcomeOf is what a sample tells of a thing, and what "not detected" leaves open; one
// that gives no result, or none yet, is said to be so.
func (r record) outcomeOf(s Sampled, of knowledge.AgentID) string {
	switch outcome := s.Outcome(of); {
	case s.Void != nil:
		return r.say("samples.stage."+string(samples.Voided)) + ", " + r.say("samples.why."+string(s.Void.Why))
	case outcome == samples.Pending:
		return r.say("samples.outcome.pending")
	default:
		said := r.say("samples.outcome." + string(outcome))
		if open, leaves := samples.LeavesOpen(r.Tables, s.Sample, of); leaves {
			said += ", " + labelled(r.text, open)
		}
		return said
	}
}

// tests are all samples with all that was reported of them, the newest first.
func (r record) tests() []Block {
	t := Table{Note: r.say("paper.tests.caution") + " " + Clean(r.text.Source("common practice, no source")), Columns: []Column{
		r.column("paper.tests.taken", dayWidth), {Title: r.say("field.material"), Share: 1, Style: smallStyle},
		{Title: r.say("field.looked-for"), Share: 1, Style: smallInk}, {Title: r.say("paper.tests.result"), Share: 1.3, Style: smallInk},
		{Title: r.say("paper.tests.report"), Share: 1, Style: smallStyle}}}
	if r.SampleNotes {
		t.Columns = append(t.Columns, r.noteColumn())
	}
	backwards(r.Samples, func(s Sampled) {
		for _, of := range s.For {
			result, sign := r.result(s, of)
			reported, _ := s.Result(of)
			row := []Cell{{Text: r.takenOn(s)}, {Text: r.sampleOf(s)}, {Text: r.agent(of)}, {Text: result, Sign: sign}, {Text: r.report(s, reported)}}
			if r.SampleNotes {
				row = append(row, Cell{Text: strings.Join(filled(Clean(reported.Note), Clean(s.Note)), "\n")})
			}
			t.Rows = append(t.Rows, row)
		}
	})
	return []Block{Heading{Level: 2, Text: r.say("paper.tests"), Aside: r.ofAll(len(r.Samples), len(r.Samples))}, t}
}

// takenOn is when a sample was taken, or that it was not.
func (r record) takenOn(s Sampled) string {
	if s.Taken.IsZero() {
		return r.say("samples.stage." + string(samples.ToTake))
	}
	return r.text.Day(s.Taken.Day())
}

// sampleOf is what a sample consists of, and of how many others.
func (r record) sampleOf(s Sampled) string {
	lines := filled(r.material(s), Clean(s.Site))
	if s.Others > 0 {
		lines = append(lines, r.text.Count("animal.day.sample.pool", s.Others))
	}
	return strings.Join(lines, "\n")
}

// result is what the lab said last of a thing, and what it had said before it was
// put right.
func (r record) result(s Sampled, of knowledge.AgentID) (words string, sign Sign) {
	words, sign = r.outcomeOf(s, of), HollowDia
	switch outcome := s.Outcome(of); {
	case s.Void != nil:
	case outcome == samples.Detected:
		words, sign = Strong(words), Triangle
	case outcome == samples.NotDetected && !samples.Speaks(r.Tables, s.Sample, of):
		// a ring would say more than the test does
	case outcome == samples.NotDetected:
		sign = Ring
	case outcome == samples.Pending:
		words += ", " + r.say("samples.stage."+string(s.Stage()))
	default:
		words = r.say("paper.tests.says-nothing", gaps{"Outcome": words})
	}
	var before samples.Result
	for _, said := range s.Results {
		if said.Of != of {
			continue
		}
		if before.Outcome != samples.Pending {
			words += "\n" + r.say("paper.tests.put-right", gaps{"Outcome": r.say("samples.outcome." + string(before.Outcome)), "Day": before.At.Day(), "Why": Clean(said.Why)})
		}
		before = said
	}
	return words, sign
}

// headed is what was typed behind the word that the key puts before it, where that was
// not typed too.
func (r record) headed(key, gap, typed string) string {
	word := strings.ToLower(strings.TrimSpace(r.say(key, gaps{gap: ""})))
	if rest, typedToo := strings.CutPrefix(strings.ToLower(typed), word); typedToo && word != "" {
		if next, _ := utf8.DecodeRuneInString(rest); !unicode.IsLetter(next) {
			return typed
		}
	}
	return r.say(key, gaps{gap: typed})
}

// report is when the result was reported, by whom, by which method where that was noted,
// and the report's number.
func (r record) report(s Sampled, result samples.Result) string {
	var lines []string
	if !result.At.IsZero() {
		lines = append(lines, r.text.Day(result.At.Day()))
	}
	lines = append(lines, filled(Clean(s.Lab))...)
	if result.Method != "" {
		lines = append(lines, r.say("samples.by", gaps{"Method": r.say("method." + string(result.Method))}))
	}
	if result.Report != "" {
		lines = append(lines, r.headed("paper.tests.number", "Number", Clean(result.Report)))
	}
	return strings.Join(lines, "\n")
}
