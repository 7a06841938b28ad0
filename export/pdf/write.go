package pdf

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"time"

	"github.com/jung-kurt/gofpdf"

	"coilward/export/paper"
	"coilward/model/disk"
)

// Write writes the document as a PDF file; made stands in it as its day and
// time. The same document and time give the same bytes. Errors name the paper.
func Write(w io.Writer, d paper.Document, made time.Time) error {
	return render(w, d.Title, d.Size.W, d.Size.H, made, d.Language, func(file *gofpdf.Fpdf) {
		if d.Version != "" {
			file.SetCreator("Coilward "+paper.Clean(d.Version), true)
		}
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
func render(w io.Writer, title string, width, height float64, made time.Time, language string, draw func(*gofpdf.Fpdf)) (err error) {
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
	var written bytes.Buffer
	if err = file.Output(&written); err == nil {
		_, err = w.Write(spoken(written.Bytes(), language))
	}
	if err != nil {
		return fmt.Errorf("write the paper %q: %w", title, err)
	}
	return nil
}

// spoken is the file with its language, and with its title shown in place of its name (ISO
// 32000-1, 7.7.2 and 12.2), for which gofpdf has no call. The catalogue is the last object,
// so that only the table of objects moves.
func spoken(file []byte, language string) []byte {
	const catalogue, table = "/Type /Catalog\n", "startxref\n"
	at, end := bytes.LastIndex(file, []byte(catalogue)), bytes.LastIndex(file, []byte(table))
	if at < 0 || end < at {
		return file
	}
	more := "/ViewerPreferences << /DisplayDocTitle true >>\n"
	if language != "" {
		more = "/Lang (" + language + ")\n" + more
	}
	at += len(catalogue)
	number, after, _ := bytes.Cut(file[end+len(table):], []byte("\n"))
	begins, err := strconv.Atoi(string(number))
	if err != nil {
		return file
	}
	return slices.Concat(file[:at], []byte(more), file[at:end], fmt.Appendf(nil, "%s%d\n", table, begins+len(more)), after)
}
