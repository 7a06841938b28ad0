package exam_test

import (
	"os"
	"sync"
	"time"

	"coilward/model"
	"coilward/model/exam"
	"coilward/model/knowledge"
)

var load = sync.OnceValues(func() (*knowledge.Tables, error) {
	return knowledge.Load(os.DirFS("../../assets/knowledge"))
})

func tables(t interface{ Fatal(...any) }) *knowledge.Tables {
	loaded, err := load()
	if err != nil {
		t.Fatal(err)
	}
	return loaded
}

// morning is the moment at which the checks of the tests begin.
var morning = model.MomentOf(time.Date(2027, 6, 9, 8, 0, 0, 0, time.FixedZone("CEST", 7200)))

func later(m model.Moment, d time.Duration) model.Moment {
	m.UTC += int64(d / time.Second)
	return m
}

func sign(stop knowledge.StopID, what knowledge.FindingID) exam.Sign {
	return exam.Sign{Stop: stop, What: what, Grade: exam.Slight, Standing: exam.New, Sheds: 1, Seen: morning.Day()}
}

func graded(s exam.Sign, g exam.Grade) exam.Sign { s.Grade = g; return s }
func own(s exam.Sign, standing exam.Standing) exam.Sign {
	s.Baseline, s.Standing = true, standing
	return s
}

func older(s exam.Sign) exam.Sign { s.Old = true; return s }

func judge(t *knowledge.Tables, c exam.Context, signs ...exam.Sign) exam.Verdict {
	return exam.Urgency(t, exam.Facts{At: morning, Signs: signs, Context: c})
}

// choices are every finding at every stop that offers it.
func choices(t *knowledge.Tables) []exam.Sign {
	var all []exam.Sign
	for _, s := range append(append([]knowledge.Stop{}, t.Stops()...), wasteStop(t)) {
		for _, f := range s.Choices {
			all = append(all, sign(s.ID, f))
		}
	}
	return all
}

func wasteStop(t *knowledge.Tables) knowledge.Stop {
	s, _ := t.Stop(knowledge.Waste)
	return s
}
