package particulars

import (
	"context"
	"os"
	"path/filepath"

	"coilward/export/paper"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/ui/place"
)

// Printed is a finished paper: what stands on it, when it was issued, and what its file
// is called.
type Printed struct {
	Document paper.Document
	Issued   model.Moment
	Name     string
}

// Write writes it as a PDF file, whole or not at all.
func (d Printed) Write(path string) error { return pdf.WriteFile(path, d.Document, d.Issued.Time()) }

// Save asks where to, writes it there off Fyne's goroutine, and says where it is.
func (d Printed) Save(w place.Window) {
	text := w.Text()
	w.SaveAs(d.Name, func(path string) {
		w.Task(text.Say("papers.saving"), func(context.Context, func(float64)) error { return d.Write(path) }, func(err error) {
			if err != nil {
				w.Fault("papers.not-saved", err)
				return
			}
			w.Tell(text.Say("papers.saved"), path)
		})
	})
}

// Print writes it into a folder of its own among the system's temporary ones and opens
// it with the system's program, which prints it.
func (d Printed) Print(w place.Window) {
	var path string
	w.Task(w.Text().Say("papers.opening"), func(context.Context, func(float64)) error {
		folder, err := os.MkdirTemp("", "coilward-paper-")
		if err != nil {
			return err
		}
		path = filepath.Join(folder, d.Name)
		return d.Write(path)
	}, func(err error) {
		if err != nil {
			w.Fault("papers.not-opened", err)
			return
		}
		w.Open(path)
	})
}
