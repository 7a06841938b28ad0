package pdf

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"github.com/jung-kurt/gofpdf"

	"coilward/export/paper"
	"coilward/model/disk"
)

// Write writes the document as a PDF file; made stands in it as its day and
// time. The same document and time give the same bytes. Errors name the paper.
func Write(w io.Writer, d paper.Document, made time.Time) error {
	return render(w, d.Title, d.Size.W, d.Size.H, made, func(file *gofpdf.Fpdf) {
		file.SetTitle(paper.Clean(d.Title), true)
		file.SetSubject(paper.Clean(d.Subject), true)
		pages := paper.Layout(d)
		c := &canvas{file: file}
		for i, page := range pages {
			file.AddPage()
			paper.DrawPage(c, d, page, i+1, len(pages))
		}
	})
}

// WriteFile is Write into a file, whole or not at all: what stood there before
// stays until all of the new file is written. What is no file stays. The error
// of a file that could not be written is a *disk.Fault.
func WriteFile(path string, d paper.Document, made time.Time) error {
	var file bytes.Buffer
	if err := Write(&file, d, made); err != nil {
		return err
	}
	return disk.Write(path, file.Bytes())
}

// render makes a file of pages of that size in millimetres. What goes wrong
// inside gofpdf, a panic too, comes back as an error that names the paper.
func render(w io.Writer, title string, width, height float64, made time.Time, draw func(*gofpdf.Fpdf)) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("write the paper %q: %v", title, r)
		}
	}()
	file := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "mm", Size: gofpdf.SizeType{Wd: width, Ht: height}})
	file.SetMargins(0, 0, 0)
	file.SetAutoPageBreak(false, 0)
	file.SetCellMargin(0)
	file.SetCatalogSort(true)
	file.SetCreationDate(made)
	file.SetModificationDate(made)
	file.SetCreator("Coilward", true)
	draw(file)
	if err := file.Output(w); err != nil {
		return fmt.Errorf("write the paper %q: %w", title, err)
	}
	return nil
}
