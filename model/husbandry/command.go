package husbandry

import "coilward/model"

// Commands are the commands of this package, one of each, empty.
func Commands() []model.Command {
	return []model.Command{AddPlaces{}, ChangePlace{}, MovePlace{}, RemovePlace{}, Move{}, MoveAll{}, MoveOut{}, ChangeStay{}, RemoveStay{},
		AddTool{}, ChangeTool{}, RemoveTool{}, AddInstrument{}, ChangeInstrument{}, RemoveInstrument{}, CheckInstrument{}, Clean{}, ChangeEntry{}, RemoveEntry{}}
}
