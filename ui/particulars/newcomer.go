package particulars

import (
	"coilward/model/newcomers"
	"coilward/model/quarantine"
	"coilward/model/wording"
)

// QuarantineDay is how far the days of a quarantine have come, of those asked for: since
// the arrival, or since they began again, as the list counts them.
func QuarantineDay(t *wording.Text, n newcomers.Newcomer) string {
	for _, l := range n.Gate.Lines {
		if l.Item == quarantine.InRoom && l.Again != 0 {
			return t.Say("newcomers.day-again", wording.Gaps{"Have": l.Have, "Days": l.Want})
		}
	}
	return t.Say("newcomers.day", wording.Gaps{"Day": n.Day, "Days": n.Protocol.Days})
}
