package shell

import (
	"log/slog"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/holidays"
	"coilward/model/wording"
	"coilward/ui/look"
	"coilward/ui/place"
)

// Keys of the preferences. They are frozen.
const (
	keyLanguage   = "language"
	keyImperial   = "imperial"
	keyFahrenheit = "fahrenheit"
	keyShine      = "shine"
	keyScale      = "scale"
	keyPaper      = "paper"
	keyBy         = "by"
	keyFolder     = "folder"
	keyWidth      = "width"
	keyHeight     = "height"
	keyPhone      = "phone"
	keyPhoneDays  = "phone-days"
	keyColumns    = "columns"
	keySilent     = "silent"
	keyCountry    = "country"
)

// load reads the person's choices; what cannot be read is as at the beginning.
func load(p fyne.Preferences) place.Preferences {
	by, err := model.ParseID(p.String(keyBy))
	if err != nil {
		slog.Warn("read who writes", "error", err)
	}
	prefs := place.Preferences{
		Language: p.String(keyLanguage),
		Units:    wording.Units{Imperial: p.Bool(keyImperial), Fahrenheit: p.Bool(keyFahrenheit)},
		Shine:    look.Shine(p.String(keyShine)),
		Scale:    p.Int(keyScale),
		Paper:    place.PaperSize(p.StringWithFallback(keyPaper, string(place.A4))),
		By:       model.PersonID{ID: by},
		Folder:   p.String(keyFolder),
		Width:    float32(p.Float(keyWidth)),
		Height:   float32(p.Float(keyHeight)),

		Phone: p.String(keyPhone), PhoneDays: p.Int(keyPhoneDays),
		Columns: p.String(keyColumns),
		Silent:  p.Bool(keySilent),
		Country: holidays.Country(p.String(keyCountry)),
	}
	return prefs
}

func save(p fyne.Preferences, v place.Preferences) {
	p.SetString(keyLanguage, v.Language)
	p.SetBool(keyImperial, v.Units.Imperial)
	p.SetBool(keyFahrenheit, v.Units.Fahrenheit)
	p.SetString(keyShine, string(v.Shine))
	p.SetInt(keyScale, v.Scale)
	p.SetString(keyPaper, string(v.Paper))
	p.SetString(keyBy, idText(v.By.ID))
	p.SetString(keyFolder, v.Folder)
	p.SetFloat(keyWidth, float64(v.Width))
	p.SetFloat(keyHeight, float64(v.Height))
	p.SetString(keyPhone, v.Phone)
	p.SetInt(keyPhoneDays, v.PhoneDays)
	p.SetString(keyColumns, v.Columns)
	p.SetBool(keySilent, v.Silent)
	p.SetString(keyCountry, string(v.Country))
}

func idText(id model.ID) string {
	if id.IsZero() {
		return ""
	}
	return id.String()
}

// Scale is how large everything is shown, in percent; 0 as the system has it.
// The program asks before it opens the window: Fyne takes it from then on.
func Scale(p fyne.Preferences) int { return p.Int(keyScale) }
