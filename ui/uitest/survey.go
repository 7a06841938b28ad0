package uitest

import (
	"regexp"

	"fyne.io/fyne/v2"
)

// ofASurvey are words by which the figures of a survey are told: which share of a group it was
// laid out to find, and how surely.
var ofASurvey = regexp.MustCompile(`(?i)prevalen|prävalen|durchseuch|stichprobe|sample size|confiden|konfiden|befallen wär|infiziert wär`)

// OfASurvey are the texts below an object that tell a figure of a survey. Such a figure is the
// chance to find something if a share of a group carries it; beside the chance that at least one
// carries it, it would be taken for that.
func OfASurvey(o fyne.CanvasObject) (found []string) {
	for _, text := range Texts(o) {
		if ofASurvey.MatchString(text) {
			found = append(found, text)
		}
	}
	return found
}
