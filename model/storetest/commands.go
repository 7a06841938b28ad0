package storetest

import (
	"pgregory.net/rapid"

	"coilward/model"
)

// Put is a command that writes documents as they are.
type Put struct{ Documents []model.Document }

// Name is the command's name.
func (Put) Name() string { return "test.put" }

// Plan writes the documents.
func (p Put) Plan(model.View) (model.Writes, error) {
	return model.Writes{Put: p.Documents, Label: model.Label{Key: "test.put", Gaps: map[string]model.Gap{"Count": model.CountGap(len(p.Documents))}}}, nil
}

// Remove is a command that removes documents.
type Remove struct{ IDs []model.ID }

// Name is the command's name.
func (Remove) Name() string { return "test.remove" }

// Plan removes the documents.
func (r Remove) Plan(model.View) (model.Writes, error) {
	return model.Writes{Remove: r.IDs, Label: model.Label{Key: "test.remove"}}, nil
}

// Mixed is a command that changes, adds and removes at once.
type Mixed struct {
	Put
	Remove []model.ID
}

// Name is the command's name.
func (Mixed) Name() string { return "test.mixed" }

// Plan does all of it.
func (m Mixed) Plan(v model.View) (model.Writes, error) {
	return model.Writes{Put: m.Documents, Remove: m.Remove, Label: model.Label{Key: "test.mixed"}}, nil
}

// Entry is an entry about an animal, with a body of its own kind.
func Entry(id, animal model.ID, utc int64, body any) model.Document {
	d := model.Document{
		Type: model.TypeEntry, ID: id, Kind: "test", At: model.Moment{UTC: utc, Precision: model.ToMinute},
		Subjects: []model.Subject{{Kind: model.SubjectAnimal, ID: animal}},
	}
	if err := d.Encode(1, body); err != nil {
		panic(err) // a body of a test is always JSON
	}
	return d
}

// Commands are the generators of this package's commands. They write documents
// of every type about every kind of subject, before and after 1970, of kinds and
// subjects that only a newer version would know.
func Commands() Generators {
	return Generators{
		"test.put":    func(t *rapid.T, v model.View) model.Command { return Put{drawDocuments(t, v)} },
		"test.remove": drawRemove,
		"test.mixed": func(t *rapid.T, v model.View) model.Command {
			m := Mixed{Put: Put{drawDocuments(t, v)}}
			if id, ok := drawPresent(t, v); ok && !holds(m.Documents, id.ID) {
				m.Remove = []model.ID{id.ID}
			}
			return m
		},
	}
}

func holds(all []model.Document, id model.ID) bool {
	for _, d := range all {
		if d.ID == id {
			return true
		}
	}
	return false
}

func drawRemove(t *rapid.T, v model.View) model.Command {
	if d, ok := drawPresent(t, v); ok {
		return Remove{[]model.ID{d.ID}}
	}
	return nil
}

var types = []model.DocumentType{model.TypeAnimal, model.TypePerson, model.TypeEntry, model.TypeEntry, model.TypeProblem, "later"}

func drawPresent(t *rapid.T, v model.View) (model.Document, bool) {
	var all []model.Document
	err := v.All(rapid.SampledFrom(types).Draw(t, "type"), func(d model.Document) bool {
		all = append(all, d)
		return len(all) < 20
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) == 0 {
		return model.Document{}, false
	}
	return rapid.SampledFrom(all).Draw(t, "document"), true
}

func drawDocuments(t *rapid.T, v model.View) []model.Document {
	var all []model.Document
	for range rapid.IntRange(1, 4).Draw(t, "documents") {
		d := model.Document{ID: v.NewID(), Type: rapid.SampledFrom(types).Draw(t, "type")}
		if present, ok := drawPresent(t, v); ok && !holds(all, present.ID) && rapid.Bool().Draw(t, "change") {
			d = present
		}
		all = append(all, drawContent(t, d))
	}
	return all
}

func drawContent(t *rapid.T, d model.Document) model.Document {
	d.Kind = rapid.SampledFrom([]string{"", "weight", "of later"}).Draw(t, "kind")
	d.At.UTC = rapid.Int64Range(-5_000_000_000, 5_000_000_000).Draw(t, "utc")
	d.Subjects = rapid.SliceOfN(rapid.Custom(drawSubject), 0, 3).Draw(t, "subjects")
	body := map[string]any{"text": rapid.StringN(0, 20, 60).Draw(t, "text"), "n": rapid.Int32().Draw(t, "n")}
	if err := d.Encode(rapid.IntRange(1, 9).Draw(t, "version"), body); err != nil {
		t.Fatal(err)
	}
	return d
}

func drawSubject(t *rapid.T) model.Subject {
	kinds := []model.SubjectKind{model.SubjectAnimal, model.SubjectPlace, model.SubjectPerson, model.SubjectClutch, model.SubjectLot, "anim", "later"}
	return model.Subject{
		Kind: rapid.SampledFrom(kinds).Draw(t, "kind"),
		ID:   model.ID{0: rapid.ByteRange(1, 3).Draw(t, "subject"), 15: rapid.SampledFrom([]byte{0, 255}).Draw(t, "end")},
	}
}
