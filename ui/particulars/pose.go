package particulars

import (
	"coilward/model/knowledge"
	"coilward/ui/place"
)

// PoseOf asks for the standard pose that a photo shows, if it shows one.
func PoseOf(w place.Window, pose knowledge.PoseID, picked func(knowledge.PoseID)) *Few {
	var values, words []string
	for _, one := range w.Tables().Poses() {
		values, words = append(values, string(one.ID)), append(words, w.Text().Say("pose."+string(one.ID)))
	}
	return NewFew(w.Text().Say("field.pose"), values, words, string(pose), func(v string) { picked(knowledge.PoseID(v)) }).Optional()
}
