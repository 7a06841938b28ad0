package photo

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/disk"
)

// PDF is the form of a lab's report that is no photo of it. It is kept as it came and
// opened by the system's own program; nothing in it is carried out or drawn here, and
// no picture is made of it.
const PDF Kind = "pdf"

// MaxPDFBytes is how large a PDF may be at the most.
const MaxPDFBytes = 20 << 20

// Report is what is known of a report that was kept, a photo or a PDF.
type Report struct {
	Kind  Kind
	Pages int // of a PDF; 0: not known
}

// KeepReport is Keep for a report, which may be a PDF too. Of a PDF nothing is looked
// at but its head, its end and the count of its pages. A file that is neither is
// refused, a *model.Refusal of the field "report-file".
func (f *Folder) KeepReport(name string, r io.Reader) (Kept, error) {
	raw, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return Kept{}, fmt.Errorf("read the report %s: %w", name, err)
	}
	if isPDF(raw) {
		if why := inspectPDF(name, raw); why != nil {
			return Kept{}, why
		}
		id := idOf(raw)
		if err := f.store(id, PDF, raw); err != nil {
			return Kept{}, fmt.Errorf("keep the report %s: %w", name, err)
		}
		return Kept{ID: id}, nil
	}
	if sniff(raw) == "" || strings.EqualFold(filepath.Ext(name), ".pdf") {
		return Kept{}, noReport(name, "report.neither", nil)
	}
	kept, err := f.Keep(name, bytes.NewReader(raw))
	var why *model.Refusal
	if errors.As(err, &why) {
		return kept, noReport(why.Value, why.Reason, why.Gaps)
	}
	return kept, err
}

func noReport(name, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: "report-file", Value: name, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

// inspectPDF is why a PDF is not kept, as far as its size, its name and its last bytes
// tell; nil: it is.
func inspectPDF(name string, raw []byte) *model.Refusal {
	if len(raw) > MaxPDFBytes {
		return noReport(name, "photo.bytes", map[string]model.Gap{"Most": model.CountGap(MaxPDFBytes >> 20)})
	}
	if ending := filepath.Ext(name); ending != "" && !strings.EqualFold(ending, ".pdf") {
		return noReport(name, "photo.ending", map[string]model.Gap{"Kind": model.TextGap("PDF")})
	}
	if _, whole := tableOf(raw); !whole {
		return noReport(name, "report.cut", nil)
	}
	return nil
}

var headOfPDF = regexp.MustCompile(`^%PDF-[12]\.\d`)

// isPDF tells a PDF by its first line, which ISO 32000-2 (7.5.2) lays down.
func isPDF(raw []byte) bool { return headOfPDF.Match(raw) }

var endOfPDF = regexp.MustCompile(`startxref\s+(\d{1,10})\s+%%EOF`)

// tableOf is where a PDF says, in its last lines (7.5.5), that the table of what it
// holds begins; whole is false where it says nothing of the kind, as in a file of
// which the end is missing. After the last line some programs write a few bytes more.
func tableOf(raw []byte) (at int, whole bool) {
	end := raw[max(0, len(raw)-1024):]
	found := endOfPDF.FindAllSubmatch(end, -1)
	if len(found) == 0 {
		return 0, false
	}
	at, err := strconv.Atoi(string(found[len(found)-1][1]))
	return at, err == nil && at > 0 && at < len(raw)
}

// Report is what is known of a report that was kept, or model.ErrNotFound, or
// ErrChanged.
func (f *Folder) Report(id model.PhotoID) (Report, error) {
	_, kind, err := f.Original(id)
	if err != nil || kind != PDF {
		return Report{Kind: kind}, err
	}
	raw, _, err := f.read(id)
	if err != nil {
		return Report{}, err
	}
	return Report{Kind: PDF, Pages: pagesOf(raw)}, nil
}

// lentSide is the longest side of a photo that is lent, in pixels: small print on a
// photographed page can be read at it.
const lentSide = 2 * Page

// Lend makes a copy of a report for the system's own program to open, and tells where
// it lies: a PDF as it came, a photo as a JPEG. The original is never handed out, so
// that nothing which is done with the copy reaches it.
func (f *Folder) Lend(id model.PhotoID) (string, error) {
	_, kind, err := f.Original(id)
	if err != nil {
		return "", err
	}
	if kind != PDF {
		if _, err := f.JPEG(id, lentSide); err != nil {
			return "", err
		}
		path := f.derived(id, lentSide)
		if _, err := os.Stat(path); err != nil { // it could be made, but not kept
			return "", fmt.Errorf("write a copy of report %s: %w", id, err)
		}
		return path, nil
	}
	raw, _, err := f.read(id)
	if err != nil {
		return "", err
	}
	path := filepath.Join(f.path, derivedFolder, string(id)+"."+string(PDF))
	if there, err := os.ReadFile(path); err == nil && bytes.Equal(there, raw) {
		return path, nil // it may be open
	}
	if err := disk.WritePassing(path, raw); err != nil {
		return "", fmt.Errorf("write a copy of report %s: %w", id, err)
	}
	return path, nil
}

// clearLent takes away what was lent of PDFs. What cannot be taken away, as where it is
// open still, waits for the next time.
func (f *Folder) clearLent() {
	made, err := os.ReadDir(filepath.Join(f.path, derivedFolder))
	if err != nil {
		return
	}
	for _, one := range made {
		if filepath.Ext(one.Name()) == "."+string(PDF) {
			_ = os.Remove(filepath.Join(f.path, derivedFolder, one.Name()))
		}
	}
}

// The parts of a PDF that lead to the count of its pages.
var (
	sectionOfTable = regexp.MustCompile(`^\s*(\d{1,8}) +(\d{1,8}) *[\r\n]+`)
	rootOfPDF      = regexp.MustCompile(`/Root\s+(\d{1,8})\s+\d{1,5}\s+R\b`)
	earlierTable   = regexp.MustCompile(`/Prev\s+(\d{1,10})\b`)
	treeOfPages    = regexp.MustCompile(`/Pages\s+(\d{1,8})\s+\d{1,5}\s+R\b`)
	countOfPages   = regexp.MustCompile(`/Count\s+(\d{1,5})\b`)
	typeOfTree     = regexp.MustCompile(`/Type\s*/Pages\b`)
)

// pagesOf is how many pages a PDF says it has, where it says so in the open: in an
// object that its table names (7.5.4, 7.7.3). Where that lies packed, and wherever
// anything is unlike what is expected, it is 0, not known.
func pagesOf(raw []byte) int {
	at, whole := tableOf(raw)
	if !whole {
		return 0
	}
	root := 0
	if trailer := trailerAt(raw, at); trailer != nil {
		root = numberIn(rootOfPDF, trailer)
	}
	catalog := objectIn(raw, at, root)
	tree := objectIn(raw, at, numberIn(treeOfPages, catalog))
	if !typeOfTree.Match(tree) || len(countOfPages.FindAll(tree, 2)) != 1 {
		return 0
	}
	return numberIn(countOfPages, tree)
}

// numberIn is the number that stands in a text once; 0: it does not.
func numberIn(pattern *regexp.Regexp, text []byte) int {
	found := pattern.FindAllSubmatch(text, 2)
	if len(found) != 1 {
		return 0
	}
	n, err := strconv.Atoi(string(found[0][1]))
	if err != nil {
		return 0
	}
	return n
}

// The most that is read of one object or trailer, and the most tables that follow one
// another in a file that was changed often.
const (
	mostOfObject = 256 << 10
	mostTables   = 64
	entryOfTable = 20 // bytes
)

// trailerAt is the trailer after the table at a place; nil: there is no open table.
func trailerAt(raw []byte, at int) []byte {
	if at <= 0 || at >= len(raw) || !bytes.HasPrefix(raw[at:], []byte("xref")) {
		return nil
	}
	begin := bytes.Index(raw[at:], []byte("trailer"))
	if begin < 0 {
		return nil
	}
	text := raw[at+begin:]
	text = text[:min(len(text), mostOfObject)]
	end := bytes.Index(text, []byte("startxref"))
	if end < 0 {
		return nil
	}
	return text[:end]
}

// objectIn is the text of the object with that number, as the newest table that names
// it has it; nil: it is not found, or is longer than is read here.
func objectIn(raw []byte, at, number int) []byte {
	if number <= 0 {
		return nil
	}
	for range mostTables {
		trailer := trailerAt(raw, at)
		if trailer == nil {
			return nil
		}
		if place := placeIn(raw[at:], number); place > 0 && place < len(raw) {
			text := raw[place:]
			text = text[:min(len(text), mostOfObject)]
			end := bytes.Index(text, []byte("endobj"))
			if end < 0 || !bytes.HasPrefix(text, strconv.AppendInt(nil, int64(number), 10)) {
				return nil
			}
			return text[:end]
		}
		at = numberIn(earlierTable, trailer)
	}
	return nil
}

// placeIn is where an open table says that an object lies; 0: it does not.
func placeIn(table []byte, number int) int {
	rest := table[len("xref"):]
	for {
		head := sectionOfTable.FindSubmatch(rest[:min(len(rest), 64)])
		if head == nil {
			return 0
		}
		first, _ := strconv.Atoi(string(head[1]))
		count, _ := strconv.Atoi(string(head[2]))
		rest = rest[len(head[0]):]
		if count > len(rest)/entryOfTable {
			return 0
		}
		if number >= first && number < first+count {
			entry := rest[(number-first)*entryOfTable:][:entryOfTable]
			place, err := strconv.Atoi(string(entry[:10]))
			if err != nil || entry[17] != 'n' {
				return 0
			}
			return place
		}
		rest = rest[count*entryOfTable:]
	}
}
