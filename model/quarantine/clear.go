package quarantine

import "coilward/model"

// Clear is in how many samples that count nothing of what is asked was detected. One
// sample that was looked through for several things is one.
func (g Gate) Clear() int {
	all := map[model.ID]bool{}
	for _, l := range g.Lines {
		if l.Item != LookedFor {
			continue
		}
		for _, sample := range l.On[:min(l.Have, len(l.On))] { // those that count stand first
			all[sample] = true
		}
	}
	return len(all)
}
