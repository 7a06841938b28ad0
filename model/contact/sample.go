package contact

import (
	"errors"
	"fmt"
	"slices"

	"coilward/model"
	"coilward/model/knowledge"
)

// The newest forms that this package can read of what it does not write.
const (
	animalForm = 1
	sampleForm = 3
)

// sample is what this package must know of a sample; its fields are named as in the
// sample's own document.
type sample struct {
	Taken   model.Moment `json:"taken"`
	Results []result     `json:"results"`
}

type result struct {
	Of      knowledge.AgentID `json:"of"`
	Outcome string            `json:"outcome"`
	At      model.Moment      `json:"at"`
}

// detected is the result that counts of a thing, where it says that it was detected.
func (s sample) detected(of knowledge.AgentID) (r result, ok bool) {
	for _, r := range slices.Backward(s.Results) {
		if r.Of == of {
			return r, r.Outcome == "detected"
		}
	}
	return r, false
}

func tested(v model.View, id model.SampleID) (animals []model.AnimalID, s sample, err error) {
	d, err := v.Document(id.ID)
	if err == nil && d.Type != model.TypeSample {
		err = fmt.Errorf("it is of type %s: %w", d.Type, model.ErrNotFound)
	}
	if err == nil {
		err = d.Decode(sampleForm, &s)
	}
	if err != nil {
		return nil, s, fmt.Errorf("read the sample of a positive, %s: %w", id, err)
	}
	return animalsOf(d), s, nil
}

// Stands reports whether the result that a positive was opened for still says
// "detected": the lab did not put it right, and the sample was not taken out.
func Stands(v model.View, p Stored) (bool, error) {
	_, s, err := tested(v, p.Sample)
	if errors.Is(err, model.ErrNotFound) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	_, stands := s.detected(p.Agent)
	return stands, nil
}
