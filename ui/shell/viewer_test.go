package shell_test

import (
	"errors"
	"net/url"
	"testing"

	"fyne.io/fyne/v2"

	"coilward/ui/shell"
	"coilward/ui/uitest"
)

// blind is a system without a program that opens files.
type blind struct{ fyne.App }

func (blind) OpenURL(*url.URL) error { return errors.New("no such program") }

// Where no program opens a paper, it is said where the paper lies.
func TestAFileThatNothingOpensIsNamed(t *testing.T) {
	b := open(t, uitest.Looks()[0], "en", func(o *shell.Options) { o.App = blind{o.App} })
	b.Open("/papers/labels.pdf")
	top := uitest.Top(b.Window().Canvas())
	if !uitest.Shows(top, "/papers/labels.pdf: no such program") {
		t.Errorf("%q", uitest.Texts(top))
	}
}
