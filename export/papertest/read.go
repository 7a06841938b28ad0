package papertest

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
)

// PagesOf reads a file with a second library, pdfcpu, which validates it, and
// returns the text of each page in the order it was written.
func PagesOf(t testing.TB, file []byte) []string {
	t.Helper()
	configuration := model.NewDefaultConfiguration()
	configuration.Offline = true
	ctx, err := api.ReadValidateAndOptimize(bytes.NewReader(file), configuration)
	if err != nil {
		t.Fatalf("pdfcpu reads the file: %v", err)
	}
	var pages []string
	for n := 1; n <= ctx.PageCount; n++ {
		content, err := pdfcpu.ExtractPageContent(ctx, n)
		if err != nil {
			t.Fatalf("pdfcpu reads page %d: %v", n, err)
		}
		raw, err := io.ReadAll(content)
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, shown(raw))
	}
	return pages
}

// shown is the text of the operators Tj of a page: its strings hold UTF-16.
func shown(content []byte) string {
	var out strings.Builder
	for len(content) > 0 {
		start := bytes.IndexByte(content, '(')
		if start < 0 {
			break
		}
		text, rest := literal(content[start+1:])
		if bytes.HasPrefix(bytes.TrimLeft(rest, " "), []byte("Tj")) {
			units := make([]uint16, 0, len(text)/2)
			for i := 0; i+1 < len(text); i += 2 {
				units = append(units, uint16(text[i])<<8|uint16(text[i+1]))
			}
			out.WriteString(string(utf16.Decode(units)))
			out.WriteByte('\n')
		}
		content = rest
	}
	return out.String()
}

// literal reads a string literal of a content stream (ISO 32000-1, 7.3.4.2).
func literal(content []byte) (text, rest []byte) {
	for i := 0; i < len(content); i++ {
		switch content[i] {
		case ')':
			return text, content[i+1:]
		case '\\':
			i++
			switch content[i] {
			case 'r':
				text = append(text, '\r')
			case 'n':
				text = append(text, '\n')
			default:
				text = append(text, content[i])
			}
		default:
			text = append(text, content[i])
		}
	}
	return text, nil
}

// Checked has qpdf, where it is on this computer, look through a file.
func Checked(t testing.TB, file []byte) {
	t.Helper()
	program, err := exec.LookPath("qpdf")
	if err != nil {
		t.Skip("qpdf is not installed: `go run ./cmd/dev test` installs it")
	}
	path := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.CommandContext(t.Context(), program, "--check", path).CombinedOutput(); err != nil || bytes.Contains(out, []byte("WARNING")) {
		t.Errorf("qpdf --check: %v\n%s", err, out)
	}
}
