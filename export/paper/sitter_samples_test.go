package paper_test

import (
	"slices"
	"testing"

	"coilward/export/paper"
	"coilward/model"
	"coilward/model/due"
	"coilward/model/knowledge"
	"coilward/model/samples"
)

// Nobody who looks after the animals for a time is asked to swab a mouth or to post a
// sample: samples are the keeper's. Source: common practice, no source.
func TestTheSitterIsAskedForNoSample(t *testing.T) {
	k := keep(t)
	for _, taken := range []model.Moment{{}, k.now()} {
		k.do(samples.Prepare{Tables: k.tables, Each: []samples.New{{Animals: []model.AnimalID{k.animal},
			Sample: samples.Sample{Material: "choanal-swab", For: []knowledge.AgentID{"serpentovirus"}, Taken: taken}}}})
	}
	list, err := due.NewBook(k.tables).Bring(t.Context(), k.c, nil)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(slices.DeleteFunc(slices.Clone(list.Items), func(i due.Item) bool { return i.Act != due.ActTray })); n != 2 {
		t.Fatalf("%d things are due of samples, want 2", n)
	}
	if s := k.sitting(30); slices.ContainsFunc(s.Tasks, func(task paper.Task) bool {
		return slices.Contains([]due.Job{due.TakeSample, due.PostSample, due.AskLab}, task.Job)
	}) {
		t.Errorf("%+v", s.Tasks)
	}
}

// Photos of an arrival are the keeper's as well: who looks after the animals lifts none for
// a picture. Source: common practice, no source.
func TestTheSitterIsAskedForNoPhotos(t *testing.T) {
	k, _ := inQuarantine(t)
	list, err := due.NewBook(k.tables).Bring(t.Context(), k.c, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(list.Items, func(i due.Item) bool { return i.Job == due.TakePhotos }) {
		t.Fatal("none are due")
	}
	if s := k.sitting(30); slices.ContainsFunc(s.Tasks, func(task paper.Task) bool { return task.Job == due.TakePhotos }) {
		t.Errorf("%+v", s.Tasks)
	}
}
