// Package registry lists every command that can be done to a collection. It is
// the one place where the capabilities meet, so that what must hold for all
// commands can be tested over all of them.
package registry

import (
	"errors"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/assumed"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/contact"
	"coilward/model/due"
	"coilward/model/exam"
	"coilward/model/feeders"
	"coilward/model/handover"
	"coilward/model/husbandry"
	"coilward/model/importing"
	"coilward/model/jot"
	"coilward/model/meals"
	"coilward/model/medicine"
	"coilward/model/newcomers"
	"coilward/model/people"
	"coilward/model/powercut"
	"coilward/model/quarantine"
	"coilward/model/round"
	"coilward/model/samples"
	"coilward/model/welfare"
	"coilward/model/written"
)

// Commands are the commands of every capability, one of each, empty.
func Commands() []model.Command {
	var all []model.Command
	for _, some := range [][]model.Command{animals.Commands(), people.Commands(), care.Commands(), meals.Commands(), feeders.Commands(), exam.Commands(), due.Commands(), importing.Commands(), husbandry.Commands(), jot.Commands(), samples.Commands(), quarantine.Commands(), newcomers.Commands(), handover.Commands(), contact.Commands(), round.Commands(), powercut.Commands(), medicine.Commands(), written.Commands(), assumed.Commands(), climate.Commands(), welfare.Commands()} {
		all = append(all, some...)
	}
	return all
}

// Sound reads the body of a document and looks for values that the program
// would never have taken, as a file that was changed by other means may hold. Of
// kinds and forms that only a newer program knows it says nothing. The error is
// a *model.Refusal where a value is at fault. today is the present day.
func Sound(d model.Document, today model.Day) error {
	err := sound(d, today)
	if errors.Is(err, model.ErrNewer) {
		return nil
	}
	return err
}

func sound(d model.Document, today model.Day) error {
	switch {
	case d.Type == model.TypeAnimal:
		a, err := animals.Decode(d)
		if err != nil {
			return err
		}
		return refused(a.Check(today))
	case d.Type == model.TypePerson:
		p, err := people.Decode(d)
		if err != nil {
			return err
		}
		return refused(p.Check())
	case d.Type == model.TypeProblem:
		_, err := exam.ReadProblem(d)
		return err
	case d.Type == model.TypeAnswer:
		a, err := due.Read(d)
		if err != nil {
			return err
		}
		return refused(a.Check())
	case d.Type == model.TypeSample:
		// whatever the hour, nothing of a day that has come is at fault
		return samples.Sound(d, model.Moment{UTC: int64(today+1)*86400 - 1, Precision: model.ToDay})
	case d.Type == model.TypePositive:
		return contact.Sound(d, model.Moment{UTC: int64(today+1)*86400 - 1, Precision: model.ToDay})
	case d.Type == model.TypePrescription, d.Type == model.TypeVisit, d.Type == model.TypeQuestion:
		return medicine.Sound(d, model.Moment{UTC: int64(today+1)*86400 - 1, Precision: model.ToDay})
	case d.Kind == exam.KindCheck:
		_, err := exam.ReadCheck(d)
		return err
	}
	if known, err := husbandry.Sound(d, today); known {
		return err
	}
	if known, err := assumed.Sound(d); known {
		return err
	}
	if known, err := climate.Sound(d, model.Moment{UTC: int64(today+1)*86400 - 1, Precision: model.ToDay}); known {
		return err
	}
	if known, err := feeders.Sound(d, today); known {
		return err
	}
	if known, err := handover.Sound(d); known {
		return err
	}
	if known, err := quarantine.Sound(d, model.Moment{UTC: int64(today+1)*86400 - 1, Precision: model.ToDay}); known {
		return err
	}
	if known, err := round.Sound(d, model.Moment{UTC: int64(today+1)*86400 - 1, Precision: model.ToDay}); known {
		return err
	}
	if known, err := powercut.Sound(d, model.Moment{UTC: int64(today+1)*86400 - 1, Precision: model.ToDay}); known {
		return err
	}
	if known, err := welfare.Sound(d); known {
		return err
	}
	e, known, err := care.Decode(d)
	if err != nil || !known {
		return err
	}
	return refused(e.Check())
}

// refused keeps a refusal that is none from becoming an error that is not nil.
func refused(r *model.Refusal) error {
	if r == nil {
		return nil
	}
	return r
}
