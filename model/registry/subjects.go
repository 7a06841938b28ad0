package registry

import "coilward/model"

// Types are the types of all documents by their ids.
func Types(v model.View) (map[model.ID]model.DocumentType, error) {
	types := map[model.ID]model.DocumentType{}
	for _, t := range model.DocumentTypes() {
		if err := v.All(t, func(d model.Document) bool {
			types[d.ID] = t
			return true
		}); err != nil {
			return nil, err
		}
	}
	return types, nil
}

// Misnamed is a *model.Refusal where a document is about something that is there, and
// is not what the document takes it for; nil: it is about nothing of that kind. What is
// not there any more may have been taken out.
func Misnamed(d model.Document, types map[model.ID]model.DocumentType) error {
	for _, about := range d.Subjects {
		want, known := map[model.SubjectKind]model.DocumentType{model.SubjectAnimal: model.TypeAnimal, model.SubjectPerson: model.TypePerson,
			model.SubjectPlace: model.TypePlace, model.SubjectTool: model.TypeTool, model.SubjectInstrument: model.TypeInstrument}[about.Kind]
		if is, there := types[about.ID]; known && there && is != want {
			return &model.Refusal{Field: "about", Value: about.ID.String(), Reason: "document.misnamed", Answer: model.Mend,
				Gaps: map[string]model.Gap{"Want": model.KeyGap("keeping.type." + string(want)), "Is": model.KeyGap("keeping.type." + string(is))}}
		}
	}
	return nil
}
