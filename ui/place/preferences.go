package place

import (
	"coilward/model"
	"coilward/model/holidays"
	"coilward/model/wording"
	"coilward/ui/look"
)

// Preferences are a person's choices about the window. They stand on the
// computer, not in the collection.
type Preferences struct {
	Language string        // "en", "de"; "" as the system has it
	Units    wording.Units // of what is shown and typed
	Shine    look.Shine
	Scale    int // of everything shown, in percent; 0: as the system has it
	Paper    PaperSize
	Country  holidays.Country // whose holidays parcels lie still on; empty: not known
	Silent   bool             // nothing sounds
	By       model.PersonID   // who writes
	Folder   string           // of the collection opened last
	Width    float32          // of the window
	Height   float32
	// Phone is the folder that the phone fills; PhoneDays is how many days the inbox
	// looks back, below 0: to the beginning, 0: as usual.
	Phone     string
	PhoneDays int
	Columns   string // of spreadsheets, as they were matched by hand: a table.Memory
}

// PaperSize is the sheet that papers are laid out for.
type PaperSize string

// The sizes of paper. Values are frozen: they stand in the settings.
const (
	A4     PaperSize = "A4"
	Letter PaperSize = "Letter"
)
