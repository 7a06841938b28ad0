package wording

// Family is a group of keys that are put together at run time.
type Family struct {
	Prefix string
	// Rest tells where what follows the prefix comes from.
	Rest Rest
}

// Rest is where the last part of a family's keys comes from.
type Rest uint8

// The sources of the last part.
const (
	// Literal: it stands as a text in the program, whole or, where it has
	// several parts, in its parts.
	Literal Rest = iota
	// Table: it is an id of the knowledge tables.
	Table
	// Counted: it is a number.
	Counted
	// Quoted: it is found by the English text, which stands in the knowledge tables.
	Quoted
)

// Families are the groups of keys that are put together at run time. Every other
// key stands in the program whole.
func Families() []Family {
	return []Family{
		{"age.", Literal},
		{"agent.", Table},
		{"animal.day.meal-", Literal},
		{"animal.page.", Literal},
		{"animal.weekday.", Counted},
		{"animals.chip-site.", Literal},
		{"animals.chip.", Literal},
		{"animals.sex-how.", Literal},
		{"animals.sex.", Literal},
		{"animals.source.", Literal},
		{"animals.status.", Literal},
		{"calendar.ago.", Literal},
		{"calendar.in.", Literal},
		{"calendar.month-short.", Counted},
		{"calendar.month.", Counted},
		{"calendar.weekday.", Counted},
		{"care.changed.", Literal},
		{"care.done.", Literal},
		{"care.faeces.", Literal},
		{"care.gut.", Literal},
		{"care.mites.", Counted},
		{"care.mites.where.", Literal},
		{"care.outcome.", Literal},
		{"care.prey-size.", Literal},
		{"care.prey-state.", Literal},
		{"care.prey.", Literal},
		{"care.removed.", Literal},
		{"care.skin.", Literal},
		{"care.told.", Literal},
		{"care.urates.", Literal},
		{"check.answer.clear-", Literal},
		{"check.answer.rest-", Literal},
		{"check.view.", Literal},
		{"country.", Literal},
		{"due.", Literal},
		{"due.act.", Literal},
		{"due.answer.", Literal},
		{"due.job.", Literal},
		{"due.noted.", Literal},
		{"due.page.fold-", Literal},
		{"due.undone.", Literal},
		{"extent.", Literal},
		{"field.", Literal},
		{"finding.", Table},
		{"grade.", Literal},
		{"husbandry.does.", Literal},
		{"husbandry.extent.", Literal},
		{"husbandry.instrument-kind.", Literal},
		{"husbandry.place-kind.", Literal},
		{"husbandry.tool-kind.", Literal},
		{"instruments.empty-what.", Literal},
		{"instruments.empty.", Literal},
		{"instruments.how.", Literal},
		{"instruments.means.", Literal},
		{"keeping.second.why-", Literal},
		{"keeping.type.", Literal},
		{"keeping.wrong.", Literal},
		{"kind.", Literal},
		{"look.", Literal},
		{"material.", Table},
		{"means.", Table},
		{"movein.also.", Literal},
		{"movein.also.looked-for.", Table},
		{"movein.also.material.", Table},
		{"movein.also.species.", Table},
		{"movein.asks.", Literal},
		{"movein.doubt.", Literal},
		{"movein.lists.", Literal},
		{"movein.made.", Literal},
		{"mites.life.", Table},
		{"newcomers.arrival.", Literal},
		{"newcomers.asks.", Literal},
		{"newcomers.do.", Literal},
		{"newcomers.grade.", Counted},
		{"newcomers.line.", Literal},
		{"newcomers.mark.", Literal},
		{"newcomers.mites-from.", Literal},
		{"organ.", Literal},
		{"paper.asks.", Literal},
		{"paper.extent.", Literal},
		{"paper.known.checks.", Literal},
		{"paper.stop.", Table},
		{"paper.unknown.identity.", Literal},
		{"paper.view.", Literal},
		{"paper.words.", Literal},
		{"people.role.", Literal},
		{"photos.dated.", Literal},
		{"photos.why.", Literal},
		{"pose.", Table},
		{"place.", Literal},
		{"positive.act-what.", Table},
		{"positive.act.", Table},
		{"positive.since.", Literal},
		{"positive.why.", Literal},
		{"protocol.", Table},
		{"quarantine.item.", Literal},
		{"quarantine.mites.", Literal},
		{"quarantine.state.", Literal},
		{"quarantine.step.", Literal},
		{"quarantine.why.", Literal},
		{"reason.", Table},
		{"refusal.", Literal},
		{"region.", Literal},
		{"roster.column.", Literal},
		{"round.class.", Literal},
		{"samples.act.", Literal},
		{"samples.outcome.", Literal},
		{"samples.stage.", Literal},
		{"samples.why.", Literal},
		{"shelf.due.", Literal},
		{"shelf.job.", Literal},
		{"shelf.mites.", Literal},
		{"shelf.walk.against-", Literal},
		{"side.", Literal},
		{sourceFamily, Quoted},
		{"species.", Table},
		{"standing.", Literal},
		{"stop.", Table},
		{"target.", Table},
		{"tray.do.", Literal},
		{"tray.keep.", Literal},
		{"tray.mark.", Literal},
		{"tray.stage.", Literal},
		{"urgency.", Literal},
		{"value.", Table},
		{"view.", Literal},
		{"zone.", Literal},
	}
}
