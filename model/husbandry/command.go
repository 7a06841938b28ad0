package husbandry

import (
	"errors"

	"coilward/model"
	"coilward/model/knowledge"
)

var errUnwritten = errors.New("this command is not part of the program yet")

// AddPlaces adds places with all that stands in them: one place, or a whole
// rack laid out by RackOf. They stand after what is in Parent already (zero:
// in no place). The change lists their ids outermost first, in order.
type AddPlaces struct {
	Parent   model.PlaceID
	Branches []Branch
}

// Name is "husbandry.places.add".
func (AddPlaces) Name() string { return "husbandry.places.add" }

// Plan writes the places.
func (c AddPlaces) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// ChangePlace replaces what is known of a place; Base is the revision that the
// change was made on. Parent and order stay as they are: MovePlace moves.
type ChangePlace struct {
	ID    model.PlaceID
	Base  uint32
	Place Place
}

// Name is "husbandry.place.change".
func (ChangePlace) Name() string { return "husbandry.place.change" }

// Plan writes the place anew.
func (c ChangePlace) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// MovePlace puts a place, with all that stands in it, elsewhere: into Parent
// (zero: in no place), before the place Before (zero: after the last).
type MovePlace struct {
	ID     model.PlaceID
	Parent model.PlaceID
	Before model.PlaceID
}

// Name is "husbandry.place.move".
func (MovePlace) Name() string { return "husbandry.place.move" }

// Plan writes the place and the order of its new neighbours.
func (c MovePlace) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// RemovePlace takes a place out with all that stands in it. It is refused while
// an animal lives there. What has a history (stays, entries) is kept as closed
// from today on; the rest is removed.
type RemovePlace struct{ ID model.PlaceID }

// Name is "husbandry.place.remove".
func (RemovePlace) Name() string { return "husbandry.place.remove" }

// Plan removes or closes the places.
func (c RemovePlace) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// Move says that an animal lives in a place from a moment on. The stay that it
// was in then ends at that moment; the new one lasts as long as that one would
// have, or until the animal's next stay begins, or is open. So the order in
// which moves are entered does not matter.
type Move struct {
	Animal    model.AnimalID
	Place     model.PlaceID
	At        model.Moment
	By        model.PersonID
	Note      string
	Confirmed model.Confirmed
}

// Name is "husbandry.move".
func (Move) Name() string { return "husbandry.move" }

// Plan writes the new stay and the end of the one before.
func (c Move) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// MoveAll moves several animals at one moment, each to its own place, all or
// none: two that swap their places, or everyone of a rack.
type MoveAll struct {
	Moves     []Relocation
	At        model.Moment
	By        model.PersonID
	Note      string
	Confirmed model.Confirmed
}

// Relocation is one animal and where it goes.
type Relocation struct {
	Animal model.AnimalID
	Place  model.PlaceID
}

// Name is "husbandry.move-all".
func (MoveAll) Name() string { return "husbandry.move-all" }

// Plan writes all stays.
func (c MoveAll) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// MoveOut says that an animal lives in no place of the collection from a moment
// on: sold, on loan, at the vet.
type MoveOut struct {
	Animal    model.AnimalID
	At        model.Moment
	By        model.PersonID
	Confirmed model.Confirmed
}

// Name is "husbandry.move-out".
func (MoveOut) Name() string { return "husbandry.move-out" }

// Plan writes the end of the stay.
func (c MoveOut) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// ChangeStay puts a stay right; Base is the revision that the change was made
// on. A stay keeps its animal.
type ChangeStay struct {
	ID        model.StayID
	Base      uint32
	Place     model.PlaceID
	From, To  model.Moment // zero To: still there
	By        model.PersonID
	Note      string
	Confirmed model.Confirmed
}

// Name is "husbandry.stay.change".
func (ChangeStay) Name() string { return "husbandry.stay.change" }

// Plan writes the stay anew.
func (c ChangeStay) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// RemoveStay takes out a stay that was entered by mistake. The stays before and
// after it are left as they are.
type RemoveStay struct{ ID model.StayID }

// Name is "husbandry.stay.remove".
func (RemoveStay) Name() string { return "husbandry.stay.remove" }

// Plan removes the stay.
func (c RemoveStay) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// AddTool brings a tool into the collection.
type AddTool struct{ Tool Tool }

// Name is "husbandry.tool.add".
func (AddTool) Name() string { return "husbandry.tool.add" }

// Plan writes the tool.
func (c AddTool) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// ChangeTool replaces what is known of a tool; Base is the revision that the
// change was made on.
type ChangeTool struct {
	ID   model.ToolID
	Base uint32
	Tool Tool
}

// Name is "husbandry.tool.change".
func (ChangeTool) Name() string { return "husbandry.tool.change" }

// Plan writes the tool anew.
func (c ChangeTool) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// RemoveTool takes a tool out; one with cleanings is kept as closed from today on.
type RemoveTool struct{ ID model.ToolID }

// Name is "husbandry.tool.remove".
func (RemoveTool) Name() string { return "husbandry.tool.remove" }

// Plan removes or closes the tool.
func (c RemoveTool) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// AddInstrument brings an instrument into the collection.
type AddInstrument struct{ Instrument Instrument }

// Name is "husbandry.instrument.add".
func (AddInstrument) Name() string { return "husbandry.instrument.add" }

// Plan writes the instrument.
func (c AddInstrument) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// ChangeInstrument replaces what is known of an instrument; Base is the revision
// that the change was made on. It keeps its kind.
type ChangeInstrument struct {
	ID         model.InstrumentID
	Base       uint32
	Instrument Instrument
}

// Name is "husbandry.instrument.change".
func (ChangeInstrument) Name() string { return "husbandry.instrument.change" }

// Plan writes the instrument anew.
func (c ChangeInstrument) Plan(v model.View) (model.Writes, error) {
	return model.Writes{}, errUnwritten
}

// RemoveInstrument takes an instrument out; one with checks is kept as closed
// from today on.
type RemoveInstrument struct{ ID model.InstrumentID }

// Name is "husbandry.instrument.remove".
func (RemoveInstrument) Name() string { return "husbandry.instrument.remove" }

// Plan removes or closes the instrument.
func (c RemoveInstrument) Plan(v model.View) (model.Writes, error) {
	return model.Writes{}, errUnwritten
}

// CheckInstrument notes a check of an instrument against something known.
type CheckInstrument struct {
	Instrument model.InstrumentID
	At         model.Moment
	By         model.PersonID
	Check      InstrumentCheck
}

// Name is "husbandry.instrument.check".
func (CheckInstrument) Name() string { return "husbandry.instrument.check" }

// Plan writes the check.
func (c CheckInstrument) Plan(v model.View) (model.Writes, error) {
	return model.Writes{}, errUnwritten
}

// Clean notes a cleaning of places and tools. What the tables say of the means
// is stored with it.
type Clean struct {
	Tables    *knowledge.Tables
	Places    []model.PlaceID
	Tools     []model.ToolID
	At        model.Moment
	By        model.PersonID
	Cleaning  Cleaning
	Confirmed model.Confirmed
}

// Name is "husbandry.clean".
func (Clean) Name() string { return "husbandry.clean" }

// Plan writes the cleaning. It asks where a means does not work on what it was
// used against, or was left for too short a time ("clean.does-not",
// "clean.too-short"), and where means were used together that must never meet
// ("clean.dangerous").
func (c Clean) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// ChangeEntry replaces an entry of this package: a cleaning or a check of an
// instrument. Exactly one of Cleaning and Check is given, as the entry's kind is.
type ChangeEntry struct {
	Tables    *knowledge.Tables
	Entry     model.EntryID
	Base      uint32
	At        model.Moment
	By        model.PersonID
	Places    []model.PlaceID
	Tools     []model.ToolID
	Cleaning  *Cleaning
	Check     *InstrumentCheck
	Confirmed model.Confirmed
}

// Name is "husbandry.entry.change".
func (ChangeEntry) Name() string { return "husbandry.entry.change" }

// Plan writes the entry anew.
func (c ChangeEntry) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// RemoveEntry takes an entry of this package out.
type RemoveEntry struct{ Entry model.EntryID }

// Name is "husbandry.entry.remove".
func (RemoveEntry) Name() string { return "husbandry.entry.remove" }

// Plan removes the entry.
func (c RemoveEntry) Plan(v model.View) (model.Writes, error) { return model.Writes{}, errUnwritten }

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{AddPlaces{}, ChangePlace{}, MovePlace{}, RemovePlace{}, Move{}, MoveAll{}, MoveOut{}, ChangeStay{}, RemoveStay{},
		AddTool{}, ChangeTool{}, RemoveTool{}, AddInstrument{}, ChangeInstrument{}, RemoveInstrument{}, CheckInstrument{}, Clean{}, ChangeEntry{}, RemoveEntry{}}
}
