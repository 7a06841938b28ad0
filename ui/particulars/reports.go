package particulars

import (
	"context"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/photo"
	"coilward/ui/look"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// ReportEndings are how the names of files end that may be a lab's report.
func ReportEndings() []string { return append(PhotoEndings(), ".pdf") }

// KeepReports is KeepPhotos for the reports of a lab, which may be PDFs too. Its
// refusals are of the field "report-file".
func KeepReports(w place.Window, paths []string, done func([]model.PhotoID, error)) {
	keepFiles(w, taking{"particulars.taking-reports", "particulars.reports-failed", "report-file", w.Photos().KeepReport}, paths, func(all []photo.Kept, err error) {
		var ids []model.PhotoID
		for _, kept := range all {
			ids = append(ids, kept.ID)
		}
		done(ids, err)
	})
}

// OpenReport opens a copy of a report with the system's own program.
func OpenReport(w place.Window, id model.PhotoID) {
	var path string
	w.Task(w.Text().Say("particulars.opening-report"), func(context.Context, func(float64)) (err error) {
		path, err = w.Photos().Lend(id)
		return err
	}, func(err error) {
		if err != nil {
			w.Fault("particulars.report-unopened", err)
			return
		}
		w.Open(path)
	})
}

// The size of a report in a strip, and of what takes it out of it.
const (
	reportWidth  float32 = 96
	reportHeight float32 = 72
	reportOff    float32 = 32
)

// ReportStrip shows the reports of a lab: a photo small, a PDF as a sheet with the
// count of its pages where that is known. Pressing one opens it. off takes one out; nil:
// they are only shown. What they hold of people, and where it stays, is said below.
func ReportStrip(w place.Window, thumbs Thumbs, ids []model.PhotoID, off func(model.PhotoID)) fyne.CanvasObject {
	all := widgets.Wrap(look.S8)
	for _, id := range ids {
		name, picture := reportTile(w, thumbs, id)
		press := widgets.NewPress(name, picture, func(widgets.State) widgets.Ground { return widgets.Ground{Radius: look.RBase} }, func() { OpenReport(w, id) })
		if off == nil {
			all.Add(press)
			continue
		}
		all.Add(widgets.Fix(reportWidth, 0, widgets.Col(look.S4, press, widgets.Fix(0, reportOff,
			widgets.Button(widgets.Quiet, widgets.Act{Label: w.Text().Say("particulars.report-off"), Do: func() { off(id) }})))))
	}
	return widgets.Col(look.S4, all, widgets.Para(w.Text().Say("particulars.report-private"), look.Note, look.Soft))
}

// reportTile is what a report is, in words, and its picture.
func reportTile(w place.Window, thumbs Thumbs, id model.PhotoID) (string, fyne.CanvasObject) {
	text := w.Text()
	report, err := w.Photos().Report(id)
	sheet := func(icon string, tone look.Tone, words string) fyne.CanvasObject {
		return widgets.Fix(reportWidth, reportHeight, widgets.Filled(look.Well, look.RBase), widgets.MiddleUpright(widgets.Col(look.S4,
			widgets.Middle(widgets.NewIcon(icon, 24, tone)), widgets.Line(words, look.Note, look.Soft).Centred().Cuts())))
	}
	switch {
	case err != nil:
		lost := text.Say("particulars.report-lost")
		return lost, sheet("caution", look.Days, lost)
	case report.Kind != photo.PDF:
		return text.Say("particulars.report-photo"), widgets.PhotoTile(reportWidth, reportHeight, thumbs.Of(w, id, Small))
	case report.Pages == 0:
		pdf := text.Say("particulars.report-pdf")
		return pdf, sheet("papers", look.Soft, pdf)
	}
	pages := text.Count("particulars.report-pages", report.Pages)
	return pages, sheet("papers", look.Soft, pages)
}
