package wording

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"github.com/nicksnyder/go-i18n/v2/i18n"
	"golang.org/x/text/language"
)

// Pseudo is the made-up language that is used to find texts too long for their
// box: English with accents, in brackets and 40 % longer.
const Pseudo = "qps"

// Languages are the catalogues of all languages.
type Languages struct {
	codes      []string
	catalogues map[string]*catalogue
	words      calendarWords
	sources    map[string]string // the key of each phrase of a source by its English text
}

type catalogue struct {
	bundle *i18n.Bundle
	tag    language.Tag
	texts  map[string]*i18n.Message
}

// Load reads the catalogues: every JSON file of a folder is part of the language
// that the folder is named after. A key that stands twice in a language is an
// error, naming both files. English must be among them.
func Load(files fs.FS) (*Languages, error) {
	folders, err := fs.ReadDir(files, ".")
	if err != nil {
		return nil, fmt.Errorf("read the catalogues: %w", err)
	}
	l := &Languages{catalogues: map[string]*catalogue{}}
	for _, folder := range folders {
		if !folder.IsDir() {
			continue
		}
		if l.catalogues[folder.Name()], err = loadLanguage(files, folder.Name()); err != nil {
			return nil, fmt.Errorf("read the catalogue of %s: %w", folder.Name(), err)
		}
		l.codes = append(l.codes, folder.Name())
	}
	english := l.catalogues["en"]
	if english == nil {
		return nil, fmt.Errorf("read the catalogues: there is no folder en")
	}
	l.words, l.sources = l.calendarWords(), l.phrases(sourceFamily)
	l.catalogues[Pseudo], err = newCatalogue(language.English, pseudoTexts(english.texts))
	return l, err
}

func loadLanguage(files fs.FS, code string) (*catalogue, error) {
	tag, err := language.Parse(code)
	if err != nil {
		return nil, fmt.Errorf("the folder's name is no language: %w", err)
	}
	names, err := fs.Glob(files, code+"/*.json")
	if err != nil {
		return nil, err
	}
	texts, from := map[string]*i18n.Message{}, map[string]string{}
	for _, name := range names {
		messages, err := readFile(files, name, tag)
		if err != nil {
			return nil, err
		}
		for _, m := range messages {
			if from[m.ID] != "" {
				return nil, fmt.Errorf("key %s stands in %s and in %s", m.ID, from[m.ID], name)
			}
			texts[m.ID], from[m.ID] = m, name
		}
	}
	return newCatalogue(tag, texts)
}

func readFile(files fs.FS, name string, tag language.Tag) ([]*i18n.Message, error) {
	raw, err := fs.ReadFile(files, name)
	if err != nil {
		return nil, err
	}
	file, err := i18n.ParseMessageFileBytes(raw, strings.TrimSuffix(path.Base(name), ".json")+"."+tag.String()+".json",
		map[string]i18n.UnmarshalFunc{"json": json.Unmarshal})
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	return file.Messages, nil
}

func newCatalogue(tag language.Tag, texts map[string]*i18n.Message) (*catalogue, error) {
	bundle := i18n.NewBundle(tag)
	for _, m := range texts {
		if err := bundle.AddMessages(tag, m); err != nil {
			return nil, fmt.Errorf("key %s: %w", m.ID, err)
		}
	}
	return &catalogue{bundle: bundle, tag: tag, texts: texts}, nil
}

// Codes are the languages that there are catalogues of, sorted, without Pseudo.
func (l *Languages) Codes() []string { return slices.Clone(l.codes) }

// Keys are all keys of a language, sorted.
func (l *Languages) Keys(code string) []string {
	c := l.catalogues[code]
	if c == nil {
		return nil
	}
	return slices.Sorted(maps.Keys(c.texts))
}

// Nearest is the code of the catalogue that fits a system's language best, such
// as "de" for "de_AT.UTF-8"; English where none fits.
func (l *Languages) Nearest(system string) string {
	code, _, _ := strings.Cut(strings.ReplaceAll(strings.ToLower(system), "_", "-"), "-")
	code, _, _ = strings.Cut(code, ".")
	if l.catalogues[code] == nil {
		return "en"
	}
	return code
}

// In is a voice in a language and units; an unknown language speaks English.
func (l *Languages) In(code string, units Units) *Text {
	c := l.catalogues[code]
	if c == nil {
		code, c = "en", l.catalogues["en"]
	}
	return &Text{code: code, units: units, catalogue: c, localizer: i18n.NewLocalizer(c.bundle, c.tag.String()), words: &l.words, sources: l.sources}
}

// Names are the languages as each calls itself, by code, in the order of Codes.
func (l *Languages) Names() map[string]string {
	names := map[string]string{}
	for _, code := range l.codes {
		names[code] = l.In(code, Units{}).Say("language.name")
	}
	return names
}
