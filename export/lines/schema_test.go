package lines_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"coilward/export/lines"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/contact"
	"coilward/model/due"
	"coilward/model/husbandry"
	"coilward/model/knowledge"
	"coilward/model/medicine"
	"coilward/model/people"
	"coilward/model/quarantine"
	"coilward/model/samples"
)

// The schema knows every value that this program writes, and no other.
func TestTheSchemaKnowsEveryValue(t *testing.T) {
	var schema struct {
		Defs map[string]struct{ Enum []string } `json:"$defs"`
	}
	if err := json.Unmarshal([]byte(lines.Schema()), &schema); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string][]string{
		"sex": words(animals.Female, animals.Male), "sexHow": words(animals.SexHows()...), "source": words(animals.SourceCodes()...), "status": words(animals.Statuses()...),
		"chipStandard": words(animals.ChipISO, animals.ChipOther), "chipSite": words(animals.ChipSites()...), "gut": words(care.Guts()...), "prey": words(care.Preys()...),
		"preySize": words(care.PreySizes()...), "preyState": words(care.PreyStates()...), "outcome": words(care.Outcomes()...), "told": words(care.Yes, care.No),
		"faeces": words(care.FaecesTraits()...), "urates": words(care.UratesTraits()...), "role": words(people.Roles()...), "placeKind": words(husbandry.PlaceKinds()...), "toolKind": words(husbandry.ToolKinds()...),
		"instrumentKind": words(husbandry.InstrumentKinds()...), "cleanExtent": words(husbandry.CleanExtents()...), "job": words(due.Jobs()...), "answerWhat": words(due.Whats()...),
		"does":          words(husbandry.DoesWork, husbandry.DoesPartly, husbandry.TooShort, husbandry.TimeUnsaid, husbandry.DoesNot, husbandry.NothingSaid),
		"sampleOutcome": words(samples.Outcomes()...), "sampleWhy": words(samples.Whys()...), "method": words(knowledge.Methods()...),
		"climateZone":  words(climate.Zones()...),
		"figuresTable": words(assumed.Priors, assumed.Sights, assumed.Carriers), "figuresBy": words(assumed.Tellers()...),
		"quarantineItem": words(quarantine.Items()...), "quarantineState": words(quarantine.States()...), "positiveWhy": words(contact.Whys()...),
		"medicineForm": words(medicine.Forms()...), "medicineRoute": words(medicine.Routes()...), "medicineDid": words(medicine.Dids()...), "medicineWhy": words(medicine.Whys()...),
	} {
		got := slices.Sorted(slices.Values(schema.Defs[name].Enum))
		if slices.Sort(want); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
	for _, of := range model.DocumentTypes() {
		if !strings.Contains(lines.Schema(), string(of)) {
			t.Errorf("it does not tell of documents of type %s", of)
		}
	}
	if !strings.HasPrefix(lines.Schema(), lines.Beginning) {
		t.Error("it begins otherwise, so that an older one would not be written over")
	}
}

func words[T ~string](values ...T) (all []string) {
	for _, v := range values {
		all = append(all, string(v))
	}
	return all
}

func TestBeside(t *testing.T) {
	for path, want := range map[string]string{"a.jsonl": "a.schema.json", "b/a": "b/a.schema.json", "a.b.jsonl": "a.b.schema.json"} {
		if got := lines.Beside(path); got != want {
			t.Errorf("%s: %s", path, got)
		}
	}
}
