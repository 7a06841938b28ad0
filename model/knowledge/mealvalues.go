package knowledge

// The numbers behind meals, sheds, droppings, feeder stock, baths and fluids.
const (
	ValuePreyAfter    ValueID = "prey-after"     // percent of the usual prey, first offered after prey was brought up
	ValueBlueCycle    ValueID = "blue-cycle"     // days from the first dull skin to the shed
	ValueShedGrowing  ValueID = "shed-growing"   // days without a shed after which a growing animal is looked at
	ValueShedApart    ValueID = "shed-apart"     // days; two sheds less apart are looked into
	ValueStoolBy      ValueID = "stool-by"       // days after a meal kept
	ValueStoolMeals   ValueID = "stool-meals"    // meals kept since the last faeces, from which on none are missed
	ValueRoomDays     ValueID = "room-days"      // days within which refusals and airway signs of a room count together
	ValueRoomRefused  ValueID = "room-refused"   // animals of a room
	ValueRoomAirway   ValueID = "room-airway"    // animals of a room
	ValueBatchUp      ValueID = "batch-up"       // meals of one batch that came up
	ValueThawedKeeps  ValueID = "thawed-keeps"   // days from the thawing on within which prey is offered
	ValueBathWarmest  ValueID = "bath-warmest"   // hundredths of a degree Celsius; warmer is asked about
	ValueBathColdest  ValueID = "bath-coldest"   // hundredths of a degree Celsius; colder is asked about
	ValueBathLongest  ValueID = "bath-longest"   // minutes; longer is asked about
	ValueFluidWarmest ValueID = "fluids-warmest" // hundredths of a degree Celsius
	ValueFluidColdest ValueID = "fluids-coldest" // hundredths of a degree Celsius
)

func mealValues() []ValueID {
	return []ValueID{ValuePreyAfter, ValueBlueCycle, ValueShedGrowing, ValueShedApart, ValueStoolBy, ValueStoolMeals, ValueRoomDays, ValueRoomRefused,
		ValueRoomAirway, ValueBatchUp, ValueThawedKeeps, ValueBathWarmest, ValueBathColdest, ValueBathLongest, ValueFluidWarmest, ValueFluidColdest}
}
