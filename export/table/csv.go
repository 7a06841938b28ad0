package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"coilward/model"
)

// The encodings, as they are called.
const (
	encodingUTF8    = "UTF-8"
	encodingUTF16   = "UTF-16"
	encodingWestern = "Windows-1252"
)

// fewZeros is how many zero bytes may be slips in a text; the cells that hold them
// are refused.
const fewZeros = 8

// readCSV reads comma-separated values as RFC 4180 has them, with a semicolon or
// a tab for the comma too, and with quotation marks inside of plain cells.
func readCSV(name string, raw []byte) (Book, error) {
	text, coding, err := decoded(name, raw)
	if err != nil {
		return Book{}, err
	}
	if !strings.Contains(text, "\n") { // lines that end in CR alone, as old spreadsheets of the Mac write them
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	b := Book{Encoding: coding}
	before := len(text)
	b.Comma, text = separator(text)
	shift := 0
	if len(text) != before { // a line that only names the separator
		shift = 1
	}
	if line := tooWide(text, b.Comma); line > 0 {
		return Book{}, tooManyColumns(name, line+shift)
	}
	rows, err := csvRows(text, b.Comma, false, shift)
	var bad *csv.ParseError
	if errors.As(err, &bad) && errors.Is(bad.Err, csv.ErrBareQuote) {
		rows, err = csvRows(text, b.Comma, true, shift)
	}
	switch {
	case errors.Is(err, errTooMany):
		return Book{}, refuse(name, "table.rows", map[string]model.Gap{"Most": model.CountGap(MaxRows)})
	case errors.As(err, &bad):
		return Book{}, refuse(name, "table.quote", map[string]model.Gap{"Line": model.CountGap(bad.StartLine + shift)})
	case err != nil:
		return Book{}, damaged(name, err)
	}
	b.Sheets = []Sheet{{Name: strings.TrimSuffix(name, filepath.Ext(name)), Rows: rows}}
	return b, nil
}

// mostSeparators is how many separators a record may have to be read at all: one
// with more has too many columns, however its quotes are read.
const mostSeparators = 100 * MaxColumns

// tooWide is the line where a record begins that would take far more memory than
// the file if it were read; 0: none. A record goes on over lines within quotes.
func tooWide(text string, comma rune) int {
	separators, line, begin := 0, 1, 1
	quoted, fresh := false, true // within quotes; at the beginning of a cell
	for i := 0; i < len(text); i++ {
		c := text[i]
		if c == '\n' {
			line++
		}
		switch {
		case quoted && c == '"' && strings.HasPrefix(text[i+1:], `"`):
			i++
		case quoted && c == '"':
			quoted = !closes(text[i+1:], comma)
		case quoted:
		case c == '"' && fresh:
			quoted, fresh = true, false
		case c == '\n':
			separators, begin, fresh = 0, line, true
		case rune(c) == comma:
			if separators++; separators > mostSeparators {
				return begin
			}
			fresh = true
		default:
			fresh = false
		}
	}
	return 0
}

// closes reports whether a quotation mark before the rest ends its cell.
func closes(rest string, comma rune) bool {
	return rest == "" || rune(rest[0]) == comma || rest[0] == '\n' || strings.HasPrefix(rest, "\r\n")
}

func csvRows(text string, comma rune, lazy bool, shift int) ([]Row, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = comma, -1, lazy
	var rows []Row
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, err
		}
		if len(rows) > MaxRows {
			return nil, errTooMany
		}
		if !blank(cells) {
			line, _ := r.FieldPos(0)
			rows = append(rows, Row{Line: line + shift, Cells: cells})
			if len(cells) > MaxColumns {
				return rows, nil // refused as a whole: what follows is not read
			}
		}
	}
}

func blank(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// decoded is the text of a file in UTF-8, UTF-16 or, where it is neither,
// Windows-1252, and which it was.
func decoded(name string, raw []byte) (text, coding string, err error) {
	zeros := bytes.Count(raw, []byte{0})
	switch {
	case bytes.HasPrefix(raw, []byte("\xef\xbb\xbf")):
		raw = raw[3:]
	case bytes.HasPrefix(raw, []byte("\xff\xfe")):
		return utf16(name, raw[2:], unicode.LittleEndian)
	case bytes.HasPrefix(raw, []byte("\xfe\xff")):
		return utf16(name, raw[2:], unicode.BigEndian)
	case zeros > len(raw)/4 && zeros <= len(raw)/2+1:
		order := unicode.LittleEndian
		if raw[0] == 0 {
			order = unicode.BigEndian
		}
		return utf16(name, raw, order)
	case zeros > max(fewZeros, len(raw)/100):
		return "", "", refuse(name, "table.other", nil)
	}
	if utf8.Valid(raw) {
		return string(raw), encodingUTF8, nil
	}
	if line, mixed := mixture(raw); mixed {
		return "", "", refuse(name, "table.encoding", map[string]model.Gap{"Line": model.CountGap(line)})
	}
	return with(name, raw, charmap.Windows1252, encodingWestern)
}

func utf16(name string, raw []byte, order unicode.Endianness) (text, coding string, err error) {
	if len(raw)%2 != 0 {
		return "", "", damaged(name, io.ErrUnexpectedEOF)
	}
	return with(name, raw, unicode.UTF16(order, unicode.IgnoreBOM), encodingUTF16)
}

func with(name string, raw []byte, e encoding.Encoding, coding string) (string, string, error) {
	text, err := e.NewDecoder().Bytes(raw)
	if err != nil {
		return "", "", damaged(name, err)
	}
	return string(text), coding, nil
}

// mixture reports whether most of what is not ASCII is UTF-8, but not all: a
// file put together of two encodings, or cut within a sign. line is that of the
// first sign that is none.
func mixture(raw []byte) (line int, mixed bool) {
	line = 1
	good, bad, at := 0, 0, 0
	for i := 0; i < len(raw); {
		r, size := utf8.DecodeRune(raw[i:])
		switch {
		case r == utf8.RuneError && size <= 1:
			if bad == 0 {
				at = line
			}
			bad++
		case size > 1:
			good++
		case r == '\n':
			line++
		}
		i += size
	}
	return at, good > bad
}

// sniffed is how many lines tell what parts the columns.
const sniffed = 20

// separator is what parts the columns: named by a first line such as "sep=;", or
// the sign that stands in the first lines equally often. The rest is the text
// without that line.
func separator(text string) (rune, string) {
	line, rest, found := strings.Cut(text, "\n")
	if name, named := strings.CutPrefix(strings.ToLower(strings.TrimSpace(line)), "sep="); named && found && len(name) <= 1 {
		if name == "" {
			name = "\t" // trimmed away
		}
		if name[0] != '"' && name[0] != '\r' && name[0] < utf8.RuneSelf {
			return rune(name[0]), rest
		}
	}
	best, most := ';', 0
	for _, comma := range []rune{';', '\t', ',', '|'} {
		if score := evenness(text, comma); score > most {
			best, most = comma, score
		}
	}
	return best, text
}

// evenness is how often the sign stands in the first line, times the lines in
// which it stands as often.
func evenness(text string, comma rune) int {
	first, score, here, lines := -1, 0, 0, 0
	quoted, filled := false, false
	end := func() {
		if filled {
			if first < 0 {
				first = here
			}
			if here == first {
				score += here
			}
			lines++
		}
		here, filled = 0, false
	}
	for _, r := range text {
		switch {
		case r == '"':
			quoted, filled = !quoted, true
		case quoted:
		case r == '\n':
			end()
		case r == comma:
			here++
		case r != '\r' && r != ' ':
			filled = true
		}
		if lines == sniffed {
			return score
		}
	}
	end()
	return score
}
