package climate_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/climate"
	"coilward/model/collection"
	"coilward/model/husbandry"
	"coilward/model/powercut"
	"coilward/model/storetest"
	"coilward/ui/uitest"
)

// full is a vivarium of which all is known that the page tells of: a power cut, both ends, a
// lamp, who lives there, sheds and meals, and instruments that are at fault.
func full(t testing.TB) func(*collection.Collection) {
	return func(c *collection.Collection) {
		do := func(command model.Command) model.ID {
			t.Helper()
			done, err := c.Do(command)
			if err != nil {
				t.Fatalf("%s: %v", command.Name(), err)
			}
			if len(done.Documents) == 0 {
				return model.ID{}
			}
			return done.Documents[0]
		}
		now := model.MomentOf(storetest.Start())
		place := model.PlaceID{ID: do(husbandry.AddPlaces{Branches: []husbandry.Branch{{Place: husbandry.Place{Name: "Loft box", Kind: husbandry.Vivarium, Size: husbandry.Size{Width: model.Length{Tenths: 6000}, Depth: model.Length{Tenths: 9000}}}}}})}
		instrument := func(name string, kind husbandry.InstrumentKind) model.InstrumentID {
			i := husbandry.Instrument{Name: name, Kind: kind, Place: place}
			if kind == husbandry.UVLamp {
				i.InUse = model.Date{Day: now.Day() - 70, Precision: model.ToDay}
			}
			return model.InstrumentID{ID: do(husbandry.AddInstrument{Instrument: i})}
		}
		animal := model.AnimalID{ID: do(animals.Add{Animal: animals.Animal{Name: "Sorrel", Species: "python-regius", Length: animals.Measured{SnoutVent: model.Length{Tenths: 12000}}}})}
		about := func(days int) care.About {
			return care.About{Animal: animal, At: ago(days), Confirmed: model.Confirmed{"day.before-arrival"}}
		}
		do(husbandry.Move{Animal: animal, Place: place, At: ago(300), Confirmed: model.Confirmed{"day.before-arrival"}})
		instrument("Bright lamp", husbandry.UVLamp)
		warm := climate.Key{Place: place, Zone: climate.Warm, With: instrument("Warm logger", husbandry.Hygrometer)}
		var all []climate.Reading
		for hour := range 100 * 24 { // ten days cooler, ten days warmer
			at := now.UTC - int64(hour+1)*3600
			all = append(all, climate.Reading{At: at, Temperature: int16(2600 + hour/240%2*300 + hour%7), Humidity: int16(6000 + hour%5)})
		}
		for i := range 25 { // four hours without power, half a degree in each
			all = append(all, climate.Reading{At: ago(120).UTC + int64(i)*600, Temperature: int16(2800 - i*50/6), Humidity: climate.NoHumidity})
		}
		do(climate.TakeIn{Key: warm, Readings: all})
		until := ago(120)
		until.UTC += 4 * 3600
		do(powercut.Note{From: ago(120), Places: []model.PlaceID{place}, Cut: powercut.Cut{Until: until}})
		cool := climate.Key{Place: place, Zone: climate.Cool, With: instrument("Cool logger", husbandry.Hygrometer)}
		all = nil
		for hour := range 20 { // much drier
			all = append(all, climate.Reading{At: now.UTC - int64(hour+1)*3600, Temperature: int16(2600 + hour%7), Humidity: int16(3000 + hour%5)})
		}
		do(climate.TakeIn{Key: cool, Readings: all})
		hide := climate.Key{Place: place, Zone: climate.Hide, With: instrument("Hide logger", husbandry.Thermometer)}
		all = nil
		for i := range 20 {
			all = append(all, climate.Reading{At: now.UTC - 7200 + int64(i)*30, Temperature: int16(2600 + i/10*400 + i%2), Humidity: climate.NoHumidity})
		}
		do(climate.TakeIn{Key: hide, Readings: all})
		do(husbandry.CheckInstrument{Instrument: hide.With, At: now})
		basking := climate.Key{Place: place, Zone: climate.Basking, With: instrument("Top logger", husbandry.Thermometer)}
		all = nil
		for hour := range 30 { // the same all night, then nothing for six hours
			if hour < 8 || hour > 13 {
				all = append(all, climate.Reading{At: now.UTC - int64(30-hour)*3600, Temperature: int16(3200 + max(0, hour-20)), Humidity: climate.NoHumidity})
			}
		}
		for i := range 8 {
			all = append(all, climate.Reading{At: now.UTC - int64(38-i)*3600, Temperature: 3200, Humidity: climate.NoHumidity})
		}
		do(climate.TakeIn{Key: basking, Readings: all})
		do(climate.Note{Key: climate.Key{Place: place, Zone: climate.Basking}, At: ago(1), Reading: climate.Reading{Temperature: climate.NoTemperature, Humidity: climate.NoHumidity},
			UV: &climate.UVReading{Index: 90, Distance: model.Length{Tenths: 3000}}})
		for i := range 8 { // refused in the warmer days
			m := care.Meal{Outcome: care.Took, Prey: care.Rat, Count: 1, Each: model.Grams(80)}
			if i%2 == 1 {
				m.Outcome = care.Refused
			}
			do(care.Feed{About: about(i*10 + 5), Meal: m})
		}
		do(care.RecordShed{About: about(30), Shed: care.Shed{Skin: care.InPieces}})
	}
}

// Each sentence of the page, as it is told of what is known.
func TestWhatThePageTells(t *testing.T) {
	for language, sentences := range map[string][]string{
		"en": {
			"About 12 hours from 26 °C",
			"This rests on 1 power cut that was logged",
			"there is not as much water in the air at both. Compared in 20 hours in which both were read.",
			"Bright lamp: 10 weeks in use.",
			"Sorrel cannot lie stretched out: the enclosure is 90 cm long, 75 % of the length to the vent.",
			"UV index 0.9 on", "as in zone 1 of four", "Measured 30 cm from the lamp.",
			"Sheds: cannot be told yet. 1 bad, 0 whole",
			"Meals: 4 refused after", "4 not refused after",
			"Readings of Hide logger are doubtful",
			"It showed the same for 12 hours and more, from",
			"It moved by more than 3 °C within 60 seconds, on",
			"Day is from 08:00 to 20:00", "is good (common practice, no source): Warm end 60 % to 80 %, Cool end 60 % to 80 %. It counts", "else in the 10 days before",
			"looked for only where readings lie at most 60 seconds apart",
			"Readings are missing for 7 hours",
		},
		"de": {
			"Etwa 12 Stunden von 26 °C",
			"Verglichen in 20 Stunden, in denen es von beiden Messwerte gibt.",
			"Bright lamp: 10 Wochen in Gebrauch.",
			"Sorrel kann nicht ausgestreckt liegen: Das Gehege ist 90 cm lang",
			"UV-Index 0,9 am", "30 cm von der Lampe gemessen.",
			"Mahlzeiten: 4 verweigert nach",
			"Messwerte von Hide logger sind",
			"zeigte es 12 Stunden und länger dasselbe",
			"in 60 Sekunden um mehr als 3 °C",
			"Tag ist von 08:00 bis 20:00", "gut (übliche Praxis, ohne Quelle): Warme Seite 60 % bis 80 %, Kühle Seite 60 % bis 80 %. Das gilt", "sonst in den 10 Tagen davor",
			"wird nur geprüft, wo Messwerte höchstens 60 Sekunden auseinander liegen",
		},
	} {
		w := open(t, language, full(t))
		told := strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(strings.Join(uitest.Texts(uitest.Top(w.Canvas())), "\n"))
		for _, one := range sentences {
			if !strings.Contains(told, one) {
				t.Errorf("%s: %q is not in sight", language, one)
			}
		}
	}
}

// Opening a form beside the charts leaves them scrolled to where they were.
func TestTheChartsStayWhereTheyAre(t *testing.T) {
	w := open(t, "en", full(t))
	charts := func() (found *container.Scroll) { // the innermost
		uitest.Walk(w.Content(), func(s uitest.Seen) bool {
			if c, ok := s.Object.(*container.Scroll); ok && uitest.Shows(c.Content, w.Text().Say("climate.signs")) {
				found = c
			}
			return true
		})
		return found
	}
	charts().ScrollToOffset(fyne.NewPos(0, 300))
	w.tap(w.Text().Say("climate.note"))
	if at := charts().Offset.Y; at != 300 {
		t.Errorf("they were scrolled by 300, and are by %v", at)
	}
	w.escape()
	if at := charts().Offset.Y; at != 300 {
		t.Errorf("after the form they are scrolled by %v", at)
	}
}
