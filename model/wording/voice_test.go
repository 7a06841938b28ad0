package wording_test

import (
	"regexp"
	"strings"
	"testing"
)

// A German word begins and ends here; \b of the regular expressions knows no umlauts.
const (
	letterBegins = `(?:^|[^\p{L}])`
	letterEnds   = `(?:[^\p{L}]|$)`
)

// germanWords are words that the German texts do not use, each with the one that stands for
// the same thing everywhere.
var germanWords = []struct {
	never string // a regular expression of whole words
	use   string
}{
	{`(?:hoch|hervor)gewürgt(?:e|en|es)?|regurgitiert`, "ausgewürgt"},
	{`Computers?`, "Rechner"},
	{`vermerkt|verzeichnet`, "notiert"},
	{`ein(?:zu)?(?:senden|schicken)|Einsenden|eingesandt|eingeschickt`, "abschicken"},
	{`Harnsäure|Harnstein|Urat`, "Urate"},
	{`Kits?|Testkits?`, "Set"},
	{`Arznei(?:mittel|en)?|Medizin`, "Medikament"},
	{`uneindeutig|unschlüssig`, "nicht eindeutig"},
	{`aufbewahr(?:en|t)`, "gespeichert"},
	{`Tierarzt binnen Tagen`, "Tierarzt, nächste Tage"},
	{`über „(?:wieder )?nachsehen“`, "über „wieder ansehen“"},
	{`Blatt für (?:einen|den) Rundgang`, "Bogen für einen Rundgang"},
}

// germanDu are forms that call the keeper du; the texts ask with "bitte" and the infinitive.
var germanDu = regexp.MustCompile(letterBegins + `(?:du|dich|dir|dein|deine|deinen|deinem|deiner|deines)` + letterEnds)

var (
	// sieOrders is a verb in front of Sie, which is an order or a question to the keeper
	sieOrders = regexp.MustCompile(letterBegins + `\p{L}+(?:en|ern|eln) Sie` + letterEnds)
	// duOrders is a sentence that is an order to one called du, "Ergänze es"
	duOrders     = regexp.MustCompile(`(?:^|[.:!?] )\p{Lu}\p{Ll}+e (?:sie|ihn|es)(?: \p{Ll}+)*\.`)
	sentenceEnds = regexp.MustCompile(`[.:!?] +`)
	// anInfinitive is where a sentence stops with what is to be done
	anInfinitive = regexp.MustCompile(`^(?:Den|Das|Die|Einen|Eine|Ein|Eintragen|Wählen|Auswählen|Aufschreiben|Angeben|Schließen|Prüfen|Noch einmal|Zuerst)[ ,].*(?:wählen|eintragen|eintippen|angeben|prüfen|schreiben|nennen|versuchen|wiegen|ändern|fragen)(?:[.,:;].*)?$`)
)

// readByTheParser reports texts that are words the keeper's own tables or lines may hold, so
// every word for a thing stands there.
func readByTheParser(key string) bool {
	return strings.HasPrefix(key, "movein.also.")
}

func TestGermanUsesOneWordForOneThing(t *testing.T) {
	never := make([]*regexp.Regexp, len(germanWords))
	for i, w := range germanWords {
		never[i] = regexp.MustCompile(letterBegins + `(?:` + w.never + `)` + letterEnds)
	}
	for key, text := range rawTexts(t, "de") {
		// a source tells of samples in a refrigerator, which are "aufbewahrt" indeed
		if readByTheParser(key) || strings.HasPrefix(key, "source.") {
			continue
		}
		for form, said := range forms(text) {
			for i, w := range germanWords {
				if never[i].MatchString(said) {
					t.Errorf("%s %s says %q; the word for it is %q", key, form, said, w.use)
				}
			}
		}
	}
}

func TestGermanAsksWithBitte(t *testing.T) {
	for key, text := range rawTexts(t, "de") {
		if readByTheParser(key) {
			continue
		}
		for form, said := range forms(text) {
			if sieOrders.MatchString(said) {
				t.Errorf("%s %s orders with Sie: %q", key, form, said)
			}
			if germanDu.MatchString(said) || duOrders.MatchString(said) {
				t.Errorf("%s %s calls the keeper du: %q", key, form, said)
			}
			if !strings.HasPrefix(key, "refusal.") {
				continue
			}
			for _, sentence := range sentenceEnds.Split(said, -1) {
				if anInfinitive.MatchString(sentence) && !strings.Contains(strings.ToLower(said), "bitte") {
					t.Errorf("%s %s orders without bitte: %q", key, form, said)
				}
			}
		}
	}
}

func TestTheGuardsOfTheGermanVoiceCatch(t *testing.T) {
	for _, c := range []struct {
		guard *regexp.Regexp
		said  string
		want  bool
	}{
		{sieOrders, "Wechseln Sie sie, bevor sie kalt ist.", true},
		{sieOrders, "Solange Sie die Tiere versorgen", false},
		{germanDu, "Bitte prüfe, was du getippt hast.", true},
		{germanDu, "Die Dusche im Bad", false},
		{duOrders, "Eine Frage ist offen. Beantworte sie zuerst.", true},
		{duOrders, "Sie lässt sich nicht lesen.", false},
		{anInfinitive, "Den Tag eintragen, an dem es war.", true},
		{anInfinitive, "Den Tag eintragen.", true},
		{anInfinitive, "Der Tag liegt in der Zukunft.", false},
	} {
		if got := c.guard.MatchString(c.said); got != c.want {
			t.Errorf("%v of %q is %v", c.guard, c.said, got)
		}
	}
}
