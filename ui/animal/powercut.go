package animal

import (
	"coilward/model"
	"coilward/model/powercut"
	"coilward/model/wording"
)

// tellPowerCut puts a power cut that the animal lived through into words.
func tellPowerCut(t *wording.Text, d model.Document) (told, error) {
	cut, err := powercut.Read(d)
	if err != nil {
		return told{}, err
	}
	cold := t.Say("power-cut.unmeasured")
	if cut.Coldest != nil {
		cold = t.Say("power-cut.coldest", wording.Gaps{"Temperature": t.Temperature(*cut.Coldest)})
	}
	return told{title: t.Say("kind.power-cut"), detail: joined(t.Say("animal.day.power-cut", wording.Gaps{"Until": t.DayShort(cut.Until.Day()) + ", " + t.Time(cut.Until), "Coldest": cold}), cut.Note)}, nil
}
