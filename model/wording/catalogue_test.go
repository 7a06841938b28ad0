package wording_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"coilward/assets"
	"coilward/model/animals"
	"coilward/model/body"
	"coilward/model/care"
	"coilward/model/exam"
	"coilward/model/knowledge"
	"coilward/model/store"
	"coilward/model/wording"
)

// program is what the Go sources of the module say of keys.
type program struct {
	texts    map[string]string // every text literal, and where it stands
	keys     map[string]string // literals that are used as a whole key
	refused  map[string]string // fields and reasons handed to what makes refusals
	commands map[string]bool   // the names of commands
	tables   string            // the knowledge tables
}

func readProgram(t *testing.T) program {
	t.Helper()
	p := program{texts: map[string]string{}, keys: map[string]string{}, commands: map[string]bool{}, refused: map[string]string{}}
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		// the contributors' program speaks English to a terminal, without keys
		if entry.IsDir() && path != root && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "testdata" || path == filepath.Join(root, "cmd", "dev")) {
			return filepath.SkipDir
		}
		if entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		p.read(strings.TrimPrefix(path, root+string(filepath.Separator)), file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	err = fs.WalkDir(assets.Knowledge(), ".", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		raw, err := fs.ReadFile(assets.Knowledge(), path)
		p.tables += string(raw) + "\n"
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func (p program) read(path string, file *ast.File) {
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BasicLit:
			if s, ok := literal(n); ok {
				p.texts[s] = path
			}
		case *ast.CallExpr:
			if len(n.Args) > 0 && slices.Contains([]string{"Say", "say", "Count", "count", "KeyGap"}, called(n)) {
				if s, ok := literal(n.Args[0]); ok {
					p.keys[s] = path
				}
			}
			p.readRefusal(path, n)
		case *ast.CompositeLit:
			p.readComposite(path, n)
		case *ast.FuncDecl:
			p.readCommand(n)
		}
		return true
	})
}

var keyForm = regexp.MustCompile(`^[a-z][a-z0-9-]*(\.[a-z0-9-]+)+$`)

// readRefusal reads the fields and reasons that are handed to a function which makes
// refusals.
func (p program) readRefusal(path string, n *ast.CallExpr) {
	if !slices.Contains([]string{"mend", "refuse", "refusal", "ask"}, called(n)) {
		return
	}
	for _, argument := range n.Args {
		if s, ok := literal(argument); ok && keyForm.MatchString(s) {
			p.refused[s] = path
		}
	}
}

// readCommand reads the frozen name of a command, which looks like a key.
func (p program) readCommand(n *ast.FuncDecl) {
	if n.Name.Name != "Name" || n.Body == nil || len(n.Body.List) != 1 {
		return
	}
	if back, ok := n.Body.List[0].(*ast.ReturnStmt); ok && len(back.Results) == 1 {
		if s, ok := literal(back.Results[0]); ok {
			p.commands[s] = true
		}
	}
}

func (p program) readComposite(path string, n *ast.CompositeLit) {
	prefixes := map[string]map[string]string{"Label": {"Key": ""}, "Refusal": {"Reason": "refusal.", "Field": "field."}}[typeName(n.Type)]
	for _, e := range n.Elts {
		pair, ok := e.(*ast.KeyValueExpr)
		if !ok {
			continue
		}
		name, ok := pair.Key.(*ast.Ident)
		if !ok {
			continue
		}
		prefix, ok := prefixes[name.Name]
		if s, isText := literal(pair.Value); ok && isText {
			p.keys[prefix+s] = path
		}
	}
}

func literal(n ast.Node) (string, bool) {
	l, ok := n.(*ast.BasicLit)
	if !ok || l.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(l.Value)
	return s, err == nil
}

func called(n *ast.CallExpr) string { return typeName(n.Fun) }

func typeName(n ast.Expr) string {
	switch n := n.(type) {
	case *ast.Ident:
		return n.Name
	case *ast.SelectorExpr:
		return n.Sel.Name
	}
	return ""
}

// used reports whether the program can say the key.
func (p program) used(english *wording.Text, key string) bool {
	if p.texts[key] != "" || p.joined(key) {
		return true
	}
	for _, family := range wording.Families() {
		rest, ok := strings.CutPrefix(key, family.Prefix)
		if ok && (p.madeOf(rest, family.Rest) || family.Rest == wording.Quoted && strings.Contains(p.tables, english.Say(key))) {
			return true
		}
	}
	return false
}

func (p program) madeOf(rest string, from wording.Rest) bool {
	switch from {
	case wording.Counted:
		_, err := strconv.Atoi(rest)
		return err == nil
	case wording.Table:
		id, ending, _ := strings.Cut(rest, ".")
		return (mentions(p.tables, id) || p.texts[id] != "") && (ending == "" || p.texts[ending] != "" || p.texts["."+ending] != "")
	}
	return p.texts[rest] != "" || p.joined(rest)
}

// joined reports whether the key is an id of the program with a further part
// behind it, as in "kind" + ".title".
func (p program) joined(key string) bool {
	parts := strings.Split(key, ".")
	for at := 1; at < len(parts); at++ {
		head, tail := strings.Join(parts[:at], "."), strings.Join(parts[at:], ".")
		if p.texts[head] != "" && (p.texts[tail] != "" || p.texts["."+tail] != "") {
			return true
		}
	}
	return false
}

func mentions(tables, id string) bool {
	return regexp.MustCompile(`(^|[^a-z0-9-])` + regexp.QuoteMeta(id) + `($|[^a-z0-9-])`).MatchString(tables)
}

func TestNoKeyOfTheProgramIsMissing(t *testing.T) {
	l := languages(t)
	p := readProgram(t)
	for _, code := range l.Codes() {
		voice := l.In(code, wording.Units{})
		for key, path := range p.keys {
			isFamily := slices.ContainsFunc(wording.Families(), func(f wording.Family) bool { return f.Prefix == key })
			if !voice.Has(key) && !isFamily && !strings.HasSuffix(key, ".") && !strings.HasPrefix(path, filepath.Join("model", "storetest")) {
				t.Errorf("%s: %s, of %s, has no text", code, key, path)
			}
		}
		for part, path := range p.refused {
			if !voice.Has("refusal."+part) && !voice.Has("field."+part) {
				t.Errorf("%s: refusal.%s, of %s, has no text", code, part, path)
			}
		}
	}
}

// TestNoTextThatLooksLikeAKeyIsNone finds keys that reach Say by a detour: what
// has a key's form and begins like keys do must be one, or begin one.
func TestNoTextThatLooksLikeAKeyIsNone(t *testing.T) {
	l := languages(t)
	p := readProgram(t)
	keys := l.Keys("en")
	areas := map[string]bool{}
	for _, key := range keys {
		areas[strings.SplitN(key, ".", 2)[0]] = true
	}
	english := l.In("en", wording.Units{})
	for text, path := range p.texts {
		area, ending, _ := strings.Cut(text, ".")
		files := slices.Contains([]string{"json", "txt", "ttf", "pdf", "png", "jpg", "db", "go"}, ending)
		begins := slices.ContainsFunc(keys, func(key string) bool { return strings.HasPrefix(key, text) })
		if areas[area] && keyForm.MatchString(text) && !files && !begins && !p.commands[text] && !english.Has("refusal."+text) && !english.Has("field."+text) && !english.Has("region."+text) {
			t.Errorf("%s, of %s, has no text", text, path)
		}
	}
}

func TestNoKeyIsUnused(t *testing.T) {
	p, l := readProgram(t), languages(t)
	for _, key := range l.Keys("en") {
		if !p.used(l.In("en", wording.Units{}), key) {
			t.Errorf("%s is not used: take it out, or name its family in Families", key)
		}
	}
}

// Each reason for which a second place for backups fails is told in full, where it
// happens and in the settings.
func TestEveryReasonOfASecondPlaceHasItsTexts(t *testing.T) {
	l := languages(t)
	for _, code := range l.Codes() {
		for _, why := range store.SecondWhys() {
			for _, key := range []string{"keeping.second.why-" + string(why), "refusal.second." + string(why)} {
				if !l.In(code, wording.Units{}).Has(key) {
					t.Errorf("%s: %s has no text", code, key)
				}
			}
		}
	}
}

func TestEveryFamilyHasKeys(t *testing.T) {
	keys := languages(t).Keys("en")
	for _, family := range wording.Families() {
		if !slices.ContainsFunc(keys, func(key string) bool { return strings.HasPrefix(key, family.Prefix) }) {
			t.Errorf("no key begins with %s", family.Prefix)
		}
	}
}

func TestLanguagesHaveTheSameKeysAndGaps(t *testing.T) {
	l := languages(t)
	gap := regexp.MustCompile(`\{\{[^}]*\}\}`)
	raw := map[string]map[string]any{}
	for _, code := range l.Codes() {
		raw[code] = rawTexts(t, code)
	}
	for _, code := range l.Codes() {
		for key, text := range raw["en"] {
			other, ok := raw[code][key]
			if !ok {
				t.Errorf("%s: %s is missing", code, key)
				continue
			}
			want, got := forms(text), forms(other)
			for form, english := range want {
				if _, ok := got[form]; !ok {
					t.Errorf("%s: %s has no form %q", code, key, form)
					continue
				}
				a, b := gap.FindAllString(english, -1), gap.FindAllString(got[form], -1)
				slices.Sort(a)
				slices.Sort(b)
				if !slices.Equal(slices.Compact(a), slices.Compact(b)) {
					t.Errorf("%s: %s has the gaps %v, in English %v", code, key, b, a)
				}
			}
		}
		for key := range raw[code] {
			if _, ok := raw["en"][key]; !ok {
				t.Errorf("en: %s is missing, which %s has", key, code)
			}
		}
	}
}

func TestTextsAreTidy(t *testing.T) {
	for _, code := range languages(t).Codes() {
		for key, text := range rawTexts(t, code) {
			for _, said := range forms(text) {
				if strings.TrimSpace(said) == "" || said != strings.TrimSpace(said) || strings.ContainsAny(said, "\x00\t") {
					t.Errorf("%s: %s: %q", code, key, said)
				}
			}
		}
	}
}

// The chance that at least one of a group carries something is told; what a survey would find if a
// share of the group carried it is told nowhere, for it would be taken for the other.
func TestNoTextTellsAFigureOfASurvey(t *testing.T) {
	survey := regexp.MustCompile(`(?i)prevalen|prävalen|durchseuch|stichprobe|sample size|confiden|konfiden|befallen wär|infiziert wär`)
	for _, code := range languages(t).Codes() {
		texts := rawTexts(t, code)
		if _, there := texts["chance.room"]; !there {
			t.Fatalf("%s: the chance of at least one has no text", code)
		}
		for key, text := range texts {
			for _, said := range forms(text) {
				if survey.MatchString(said) {
					t.Errorf("%s: %s: %q", code, key, said)
				}
			}
		}
	}
}

func TestFrozenValuesHaveTexts(t *testing.T) {
	var keys []string
	all := func(prefix string, values ...string) {
		for _, value := range values {
			keys = append(keys, prefix+value)
		}
	}
	all("animals.sex.", "unknown", string(animals.Female), string(animals.Male))
	all("animals.sex-how.", texts(animals.SexHows())...)
	all("animals.source.", texts(animals.SourceCodes())...)
	all("animals.status.", texts(animals.Statuses())...)
	all("animals.chip-site.", texts(animals.ChipSites())...)
	all("animals.chip.", string(animals.ChipISO), string(animals.ChipOther))
	for _, prefix := range []string{"kind.", "care.done.", "care.changed.", "care.removed."} {
		all(prefix, care.Kinds()...)
	}
	all("kind.", exam.KindCheck)
	all("care.gut.", append(texts(care.Guts()), "unknown")...)
	all("care.prey.", texts(care.Preys())...)
	all("care.prey-size.", texts(care.PreySizes())...)
	all("care.prey-state.", texts(care.PreyStates())...)
	all("care.outcome.", texts(care.Outcomes())...)
	all("care.skin.", "unknown", string(care.Whole), string(care.InPieces))
	all("care.told.", "unknown", string(care.Yes), string(care.No))
	all("care.faeces.", texts(care.FaecesTraits())...)
	all("care.urates.", texts(care.UratesTraits())...)
	keys = append(keys, knowledgeKeys(t)...)
	l := languages(t)
	for _, code := range l.Codes() {
		for _, key := range keys {
			if !l.In(code, wording.Units{}).Has(key) {
				t.Errorf("%s: %s has no text", code, key)
			}
		}
	}
}

func texts[T ~string](values []T) []string {
	var all []string
	for _, v := range values {
		all = append(all, string(v))
	}
	return all
}

func knowledgeKeys(t *testing.T) []string {
	t.Helper()
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	var keys []string
	for _, stop := range tables.Stops() {
		keys = append(keys, "stop."+string(stop.ID))
	}
	for _, finding := range tables.Findings() {
		keys = append(keys, "finding."+string(finding.ID))
	}
	for _, rule := range tables.Rules() {
		keys = append(keys, "reason."+string(rule.ID))
	}
	for _, species := range tables.SpeciesList() {
		keys = append(keys, "species."+string(species.ID))
	}
	for level := knowledge.NoAction; level <= knowledge.EmergencyToday; level++ {
		keys = append(keys, "urgency."+level.String())
	}
	for _, region := range body.Regions() {
		keys = append(keys, "region."+string(region))
	}
	return keys
}

func forms(text any) map[string]string {
	found := map[string]string{}
	switch text := text.(type) {
	case string:
		found[""] = text
	case map[string]any:
		for form, said := range text {
			if said, ok := said.(string); ok {
				found[form] = said
			}
		}
	}
	return found
}

func rawTexts(t *testing.T, code string) map[string]any {
	t.Helper()
	names, err := fs.Glob(assets.Text(), code+"/*.json")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]any{}
	for _, name := range names {
		raw, err := fs.ReadFile(assets.Text(), name)
		if err != nil {
			t.Fatal(err)
		}
		var texts map[string]any
		if err := json.Unmarshal(raw, &texts); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for key, text := range texts {
			all[key] = text
		}
	}
	return all
}
