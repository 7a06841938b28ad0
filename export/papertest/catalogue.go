package papertest

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"testing"
	"text/template"

	"coilward/assets"
	"coilward/model"
)

// Catalogue words papers in tests straight from the embedded texts, in grams.
type Catalogue struct {
	language string
	texts    map[string]json.RawMessage
}

// NewCatalogue reads the texts of a language.
func NewCatalogue(t testing.TB, language string) Catalogue {
	t.Helper()
	c := Catalogue{language, map[string]json.RawMessage{}}
	files, err := fs.Glob(assets.Text(), path.Join(language, "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no texts in %q: %v", language, err)
	}
	for _, file := range files {
		raw, err := fs.ReadFile(assets.Text(), file)
		if err == nil {
			err = json.Unmarshal(raw, &c.texts)
		}
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
	}
	return c
}

func (c Catalogue) Say(key string, gaps ...map[string]any) string { return c.Count(key, 2, gaps...) }

func (c Catalogue) Count(key string, n int, gaps ...map[string]any) string {
	var text string
	var forms map[string]string
	if json.Unmarshal(c.texts[key], &forms) == nil && forms != nil {
		text = forms["other"]
		if n == 1 {
			text = forms["one"]
		}
	} else if json.Unmarshal(c.texts[key], &text) != nil {
		return key
	}
	filled := map[string]any{"Count": n}
	for _, g := range gaps {
		for name, value := range g {
			filled[name] = c.word(value)
		}
	}
	var b strings.Builder
	if err := template.Must(template.New(key).Option("missingkey=error").Parse(text)).Execute(&b, filled); err != nil {
		panic(err)
	}
	return b.String()
}

func (c Catalogue) word(value any) any {
	switch v := value.(type) {
	case model.Mass:
		return c.Mass(v)
	case model.Length:
		return c.Length(v)
	case model.Day:
		return c.Day(v)
	case model.Date:
		return c.Date(v)
	}
	return value
}

func (c Catalogue) Mass(m model.Mass) string     { return fmt.Sprintf("%d\u00a0g", m.Milligrams/1000) }
func (c Catalogue) Length(l model.Length) string { return fmt.Sprintf("%d\u00a0mm", l.Tenths/10) }
func (c Catalogue) DayShort(d model.Day) string  { return c.Day(d)[:len(c.Day(d))-5] }
func (c Catalogue) Day(d model.Day) string {
	y, m, day := d.Date()
	return fmt.Sprintf("%d\u00a0%s\u00a0%d", day, m, y)
}
func (c Catalogue) MonthYear(d model.Day) string {
	y, m, _ := d.Date()
	return fmt.Sprintf("%s %d", m.String()[:3], y)
}
func (c Catalogue) Date(d model.Date) string {
	if d.Precision == model.ToMonth {
		return c.MonthYear(d.Day)
	}
	return c.Day(d.Day)
}
func (c Catalogue) Has(key string) bool { _, ok := c.texts[key]; return ok }
func (c Catalogue) Language() string    { return c.language }
