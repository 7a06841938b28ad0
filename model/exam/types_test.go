package exam_test

import (
	"testing"

	"coilward/model/exam"
)

func TestGrade_TextAndBack(t *testing.T) {
	for g, name := range map[exam.Grade]string{exam.Ungraded: "", exam.Slight: "slight", exam.Marked: "marked", exam.Severe: "severe"} {
		text, err := g.MarshalText()
		var back exam.Grade
		if err != nil || string(text) != name || back.UnmarshalText(text) != nil || back != g {
			t.Errorf("%d: %q, %v, back %d", g, text, err, back)
		}
	}
	none := exam.Severe + 1
	if _, err := none.MarshalText(); err == nil || none.String() != "Grade(4)" {
		t.Errorf("a grade that is none: %q, %v", none.String(), err)
	}
	var g exam.Grade
	if err := g.UnmarshalText([]byte("huge")); err == nil {
		t.Error("read a grade that is none")
	}
}

func TestStanding_Present(t *testing.T) {
	for s, want := range map[exam.Standing]bool{
		exam.Unasked: true, exam.New: true, exam.Same: true, exam.Better: true, exam.Worse: true, exam.CameBack: true, exam.Gone: false, exam.Closed: false,
	} {
		if s.Present() != want {
			t.Errorf("%q: %v", s, !want)
		}
	}
}

func TestProblem_Worsened(t *testing.T) {
	tests := []struct {
		standings []exam.Standing
		want      bool
	}{
		{[]exam.Standing{exam.New}, false}, {[]exam.Standing{exam.Same, exam.Same}, false}, {[]exam.Standing{exam.New, exam.Worse}, true},
		{[]exam.Standing{exam.New, exam.Worse, exam.Same}, true}, {[]exam.Standing{exam.New, exam.Worse, exam.Better, exam.Same}, false},
		{[]exam.Standing{exam.New, exam.Worse, exam.Gone, exam.CameBack, exam.Same}, false},
	}
	for _, c := range tests {
		p := exam.Problem{}
		for _, s := range c.standings {
			p.Glimpses = append(p.Glimpses, exam.Glimpse{Standing: s})
		}
		if got := p.Worsened(); got != c.want {
			t.Errorf("%v: %v", c.standings, got)
		}
	}
}
