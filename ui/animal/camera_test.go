package animal_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/care"
	"coilward/ui/animal"
	"coilward/ui/look"
	"coilward/ui/uitest"
)

// photosNow are all photos of an animal, newest first.
func (h *hand) photosNow(name string) (kept []care.Posed) {
	h.T.Helper()
	id := h.Animal(name).ID
	if err := h.Collection().View(func(v model.View) (err error) { kept, err = care.Photos(v, id); return err }); err != nil {
		h.T.Fatal(err)
	}
	return kept
}

// A photo of another day than the one in the form: the camera's day is proposed,
// taken by a press, and else not.
func TestPhotos_TheCameraProposesItsDay(t *testing.T) {
	for _, takes := range []bool{true, false} {
		h := open(t, "en", small, look.ByDay, one(t))
		now := h.Clock.Now()
		taken := now.AddDate(0, 0, -5).Add(-90 * 60e9)
		h.show("Wren", animal.PageDays)
		h.page.Dropped([]string{uitest.Photograph(t, taken)})
		asks := h.Text().Say("animal.form.camera-says", map[string]any{"When": model.MomentOf(taken)})
		if !h.Shows(asks) || !strings.Contains(asks, taken.Format("15:04")) {
			t.Fatalf("%q is not asked: %q", asks, uitest.Texts(h.Content()))
		}
		day, dated := model.MomentOf(now).Day(), care.ByKeeper
		if takes {
			uitest.Tap(t, h.Content(), "Use that day")
			if h.Shows("The camera says") {
				t.Error("it is asked again")
			}
			day, dated = model.MomentOf(taken).Day(), care.ByCamera
		}
		uitest.Tap(t, h.Content(), "Keep")
		kept := h.photosNow("Wren")
		if len(kept) != 1 || kept[0].At.Day() != day || kept[0].Body.Dated != dated {
			t.Fatalf("taken %v: kept %+v", takes, kept)
		}
		if at := kept[0].At.Time().Format("15:04"); takes && at != taken.Format("15:04") {
			t.Errorf("kept at %s", at)
		}
	}
}

// Of a photo of the day in the form nothing is asked, nor where the day was typed.
func TestPhotos_TheCameraIsNotAskedForNothing(t *testing.T) {
	h := open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", animal.PageDays)
	h.page.Dropped([]string{uitest.Photograph(t, h.Clock.Now().Add(-60e9))})
	if h.Shows("The camera says") {
		t.Errorf("asked: %q", uitest.Texts(h.Content()))
	}
	h = open(t, "en", small, look.ByDay, one(t))
	h.show("Wren", animal.PageDays)
	earlier := h.Clock.Now().AddDate(0, 0, -3)
	h.page.Dropped([]string{uitest.Photograph(t, earlier)})
	if !h.Shows("The camera says") {
		t.Fatalf("not asked: %q", uitest.Texts(h.Content()))
	}
	for _, field := range uitest.Entries(h.Content()) {
		if entry, ok := field.(interface{ SetText(string) }); ok {
			entry.SetText(h.Text().DayShort(model.MomentOf(earlier).Day()))
			break
		}
	}
	if h.Shows("The camera says") {
		t.Errorf("asked though that day stands there: %q", uitest.Texts(h.Content()))
	}
}

// The question needs no wider page than the form does without it, and is whole.
func TestPhotos_TheCamerasQuestionIsNotCut(t *testing.T) {
	for _, language := range uitest.Languages() {
		for _, size := range []fyne.Size{{Width: 760, Height: 560}, {Width: 1280, Height: 800}} {
			h := open(t, language, size, look.ByDay, one(t))
			h.show("Wren", animal.PageDays)
			h.page.Dropped([]string{picture(t)})
			before := h.Content().MinSize().Width
			h.page.Dropped([]string{uitest.Photograph(t, h.Clock.Now().AddDate(0, -2, -5))})
			if !h.Shows(h.Text().Say("animal.form.camera-day")) {
				t.Fatalf("%s: not asked: %q", language, uitest.Texts(h.Content()))
			}
			if now := h.Content().MinSize().Width; now > before {
				t.Errorf("%s: the page needs %.0f, %.0f before it was asked", language, now, before)
			}
			if cut := uitest.Clipped(h.Content(), h.Canvas().Size()); len(cut) > 0 && before <= size.Width {
				t.Errorf("%s %v: %s", language, size, strings.Join(cut, "; "))
			}
		}
	}
}
