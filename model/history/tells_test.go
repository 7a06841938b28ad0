package history

import (
	"io/fs"
	"regexp"
	"slices"
	"strconv"
	"testing"
	"testing/fstest"

	"coilward/assets"
	"coilward/model/care"
	"coilward/model/knowledge"
)

// Every row of what entries tell names something that an entry can note, and what
// must be told has its row.
func TestTells_FitTheEntries(t *testing.T) {
	tb := tables(t)
	var positive []string
	for _, g := range care.MiteGrades() {
		if g.Positive() {
			positive = append(positive, strconv.Itoa(int(g)))
		}
	}
	noted := map[knowledge.TellEntry][]string{
		knowledge.TellMeal: {string(care.Regurgitated)}, knowledge.TellShed: {eyeCap, tailTip}, knowledge.TellMites: positive,
	}
	for _, trait := range care.FaecesTraits() {
		noted[knowledge.TellFaeces] = append(noted[knowledge.TellFaeces], string(trait))
	}
	for _, trait := range care.UratesTraits() {
		noted[knowledge.TellUrates] = append(noted[knowledge.TellUrates], string(trait))
	}
	for _, row := range tb.Tells() {
		if !slices.Contains(noted[row.Entry], row.Noted) {
			t.Errorf("%s notes no %q", row.Entry, row.Noted)
		}
	}
	for _, entry := range []knowledge.TellEntry{knowledge.TellMeal, knowledge.TellShed, knowledge.TellMites} {
		for _, n := range noted[entry] {
			if _, told := tb.Tell(entry, n); !told {
				t.Errorf("%s tells nothing of %q", entry, n)
			}
		}
	}
	// What is as it should be tells of nothing.
	for entry, n := range map[knowledge.TellEntry]care.Trait{knowledge.TellFaeces: care.Formed, knowledge.TellUrates: care.White} {
		if row, told := tb.Tell(entry, string(n)); told {
			t.Errorf("%s in %s tells of %s", n, entry, row.Finding)
		}
	}
}

// The days without mites that end what a look has told are those of its own grade.
func TestTells_EachGradeOfMitesEndsByItsOwnRow(t *testing.T) {
	files := fstest.MapFS{}
	shipped := assets.Knowledge()
	names, err := fs.Glob(shipped, "*.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(shipped, name)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: data}
	}
	row := regexp.MustCompile(`(?m)^(mites *\| 4 .*\| severe *\|) 2 `)
	if !row.Match(files["tells.txt"].Data) {
		t.Fatal("no row of mites all around that ends after two days")
	}
	files["tells.txt"].Data = row.ReplaceAll(files["tells.txt"].Data, []byte("$1 3 "))
	tb, err := knowledge.Load(files)
	if err != nil {
		t.Fatal(err)
	}
	for grade, stands := range map[care.MiteGrade]bool{care.OneMite: false, care.SeveralMites: false, care.MitesAllAround: true} {
		s := records(1000, mitesAt(grade), mitesAt(care.NoMites), mitesAt(care.NoMites)).Stand(tb, nil, day(300))
		if got := s.Level() > knowledge.Nothing; got != stands {
			t.Errorf("grade %d, and two days without: still said %v, want %v", grade, got, stands)
		}
	}
}
