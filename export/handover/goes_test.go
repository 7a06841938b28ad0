package handover

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
	"unsafe"

	"coilward/assets"
	"coilward/export/paper"
	"coilward/export/papertest"
	"coilward/export/pdf"
	"coilward/model"
	"coilward/model/animals"
	"coilward/model/care"
	"coilward/model/collection"
	"coilward/model/demo"
	"coilward/model/knowledge"
	"coilward/model/memory"
	"coilward/model/welfare"
)

// planting puts a secret of its own into every text of a value.
type planting struct {
	fills bool            // gives one to lists, pointers, maps and interfaces that are empty
	inner bool            // also into fields that no other package can set
	spare map[string]bool // fields that stay as they are
	in    []string        // the field of each secret
}

func (p *planting) secret(field string) string {
	p.in = append(p.in, field)
	return fmt.Sprintf("ZQ%dQZ", len(p.in)-1)
}

// bodies are what may stand in an interface of the facts.
func bodies(of reflect.Type) (all []any) {
	for _, b := range []any{care.Clutch{}, care.Blue{}, care.Bath{}, care.MiteTreatment{}, care.Fluids{}, care.Photo{}, care.Note{}, welfare.Observation{}, welfare.Handling{}, welfare.Change{}, welfare.PersonContact{}} {
		if reflect.TypeOf(b).Implements(of) {
			all = append(all, b)
		}
	}
	return all
}

func (p *planting) plant(v reflect.Value, field string, deep int) {
	if !v.CanSet() && p.inner && v.CanAddr() {
		v = reflect.NewAt(v.Type(), unsafe.Pointer(v.UnsafeAddr())).Elem()
	}
	if !v.CanSet() || deep == 0 {
		return
	}
	deep--
	switch v.Kind() {
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && !p.spare[field] {
			v.SetString(p.secret(field))
		}
	case reflect.Pointer:
		if v.Type() == reflect.TypeFor[*knowledge.Tables]() || v.IsNil() && !p.fills {
			return
		}
		own := reflect.New(v.Type().Elem())
		if !v.IsNil() {
			own.Elem().Set(v.Elem())
		}
		p.plant(own.Elem(), field, deep)
		v.Set(own)
	case reflect.Interface:
		p.plantInterface(v, field, deep)
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 || v.IsNil() && !p.fills {
			return
		}
		length := v.Len()
		if p.fills {
			length = max(1, len(bodies(within(v.Type()))))
		}
		own := reflect.MakeSlice(v.Type(), length, length)
		reflect.Copy(own, v)
		for i := range length {
			if body := interfaceIn(own.Index(i)); body.IsValid() && p.fills {
				body.Set(reflect.ValueOf(bodies(body.Type())[i]))
			}
			p.plant(own.Index(i), field, deep)
		}
		v.Set(own)
	case reflect.Map:
		p.plantMap(v, field, deep)
	case reflect.Struct:
		for i := range v.NumField() {
			p.plant(v.Field(i), fieldOf(v.Type(), i), deep)
		}
	}
}

// within is the interface that the elements of a list hold, such as the bodies of entries; or
// else one that nothing implements.
func within(list reflect.Type) reflect.Type {
	if body := interfaceIn(reflect.New(list.Elem()).Elem()); body.IsValid() {
		return body.Type()
	}
	return reflect.TypeFor[interface{ nothing() }]()
}

func interfaceIn(v reflect.Value) reflect.Value {
	if v.Kind() != reflect.Struct {
		return reflect.Value{}
	}
	for i := range v.NumField() {
		if f := v.Field(i); f.Kind() == reflect.Interface && f.CanSet() && len(bodies(f.Type())) > 0 {
			return f
		}
	}
	return reflect.Value{}
}

func (p *planting) plantInterface(v reflect.Value, field string, deep int) {
	switch {
	case v.Type() == reflect.TypeFor[error]():
		if p.fills {
			v.Set(reflect.ValueOf(errors.New(p.secret(field))))
		}
		return
	case v.IsNil() && !p.fills:
		return
	case v.IsNil():
		v.Set(reflect.ValueOf(bodies(v.Type())[0]))
	}
	own := reflect.New(v.Elem().Type()).Elem()
	own.Set(v.Elem())
	p.plant(own, field, deep)
	v.Set(own)
}

func (p *planting) plantMap(v reflect.Value, field string, deep int) {
	if v.IsNil() && !p.fills {
		return
	}
	own := reflect.MakeMap(v.Type())
	keys := v.MapKeys()
	if p.fills && len(keys) == 0 {
		key := reflect.New(v.Type().Key()).Elem()
		if key.Type() == reflect.TypeFor[string]() {
			key.SetString(p.secret(field))
		}
		keys = append(keys, key)
	}
	for _, key := range keys {
		one := reflect.New(v.Type().Elem()).Elem()
		if v.MapIndex(key).IsValid() {
			one.Set(v.MapIndex(key))
		}
		switch gap, is := one.Interface().(model.Gap); {
		case is && (p.fills || gap.Kind == model.GapText):
			one.Set(reflect.ValueOf(model.TextGap(p.secret("model.Gap.Text"))))
		case !is:
			p.plant(one, field, deep)
		}
		own.SetMapIndex(key, one)
	}
	v.Set(own)
}

// left are the texts that stand in a value, wherever.
func left(v reflect.Value) (all []string) {
	switch v.Kind() {
	case reflect.String:
		return []string{v.String()}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*knowledge.Tables]() {
			return left(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			all = append(all, left(v.Index(i))...)
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			all = append(append(all, left(key)...), left(v.MapIndex(key))...)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			all = append(all, left(v.Field(i))...)
		}
	}
	return all
}

// Of all that somebody may type exactly that goes which is on the list.
func TestWhatGoes(t *testing.T) {
	var f paper.Facts
	all := planting{fills: true}
	all.plant(reflect.ValueOf(&f).Elem(), "", 12)
	planted := map[string]bool{}
	for _, field := range all.in {
		planted[field] = true
	}
	if len(planted) < 80 {
		t.Fatalf("only %d fields were found", len(planted))
	}
	notes, behaviour := f, *f.Behaviour
	sieve{goes: goes(), instead: instead()}.sift(reflect.ValueOf(&notes).Elem(), "") // also of what is left out as a whole
	withoutPrivate(&f, papertest.Text(t, "en"))
	if len(behaviour.Changes) == 0 || len(f.Behaviour.Changes) != 0 || len(notes.Behaviour.Changes) == 0 {
		t.Error("changes that were tried are not left out, or the facts of others were changed")
	}
	for _, of := range []paper.Facts{f, notes} {
		went := map[string]bool{}
		for _, text := range left(reflect.ValueOf(of)) {
			var n int
			if _, err := fmt.Sscanf(text, "ZQ%dQZ", &n); err == nil {
				went[all.in[n]] = true
			}
		}
		if got, want := slices.Sorted(maps.Keys(went)), slices.Sorted(maps.Keys(goes())); !slices.Equal(got, want) {
			t.Errorf("what goes is %q, want %q", got, want)
		}
	}
	for field := range instead() {
		if !planted[field] {
			t.Errorf("no text is called %s", field)
		}
	}
}

// parts are the types that a type is made of.
func parts(t reflect.Type) (all []reflect.Type) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Array:
		return []reflect.Type{t.Elem()}
	case reflect.Map:
		return []reflect.Type{t.Key(), t.Elem()}
	case reflect.Struct:
		for i := range t.NumField() {
			all = append(all, t.Field(i).Type)
		}
	}
	return all
}

// holdsText tells that a text lies in a type, however deep, or may: an interface holds anything.
func holdsText(t reflect.Type, seen map[reflect.Type]bool) bool {
	if seen[t] || t == reflect.TypeFor[knowledge.Tables]() {
		return false
	}
	seen[t] = true
	return t == reflect.TypeFor[string]() || t.Kind() == reflect.Interface || slices.ContainsFunc(parts(t), func(of reflect.Type) bool { return holdsText(of, seen) })
}

// What no other package can set is not sifted. Behind these fields lie texts: the entries
// that chances are reckoned from, of which ids and days alone are told, those of visits, from
// which facts for rules are made, and the kinds of entries. None of them is printed, but for the kinds.
func TestWhatIsNotSifted(t *testing.T) {
	var behind []string
	seen := map[reflect.Type]bool{reflect.TypeFor[knowledge.Tables](): true}
	var look func(reflect.Type)
	look = func(of reflect.Type) {
		if seen[of] {
			return
		}
		seen[of] = true
		if of.Kind() == reflect.Interface {
			for _, body := range bodies(of) {
				look(reflect.TypeOf(body))
			}
		}
		if of.Kind() != reflect.Struct {
			for _, part := range parts(of) {
				look(part)
			}
			return
		}
		for i := range of.NumField() {
			switch f := of.Field(i); {
			case f.IsExported():
				look(f.Type)
			case holdsText(f.Type, map[reflect.Type]bool{}):
				behind = append(behind, fieldOf(of, i))
			}
		}
	}
	look(reflect.TypeFor[paper.Facts]())
	slices.Sort(behind)
	if want := []string{"chances.Chance.beside", "chances.Chance.joined", "chances.Chance.laid", "chances.Chance.open", "paper.Behaviour.entries", "paper.Quarantine.rests"}; !slices.Equal(behind, want) {
		t.Errorf("texts lie behind %q, want %q", behind, want)
	}
}

// FORMAT.md tells of all that goes.
func TestTheFormatTellsWhatGoes(t *testing.T) {
	raw, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	told := strings.Join(strings.Fields(string(raw)), " ")
	_, told, found := strings.Cut(told, "Of what somebody typed it tells")
	if !found {
		t.Fatal("FORMAT.md does not say what goes")
	}
	for field, called := range goes() {
		if !strings.Contains(told, called) {
			t.Errorf("FORMAT.md does not say that %s, %q, goes", field, called)
		}
	}
}

// printed is all that a PDF says, as its letters stand in it: its texts are UTF-16.
func printed(t *testing.T, file []byte) string {
	t.Helper()
	var units []uint16
	streams := 0
	for rest := file; ; streams++ {
		_, after, more := bytes.Cut(rest, []byte("stream\n"))
		if !more {
			break
		}
		rest = after
		r, err := zlib.NewReader(bytes.NewReader(rest))
		if err != nil {
			continue
		}
		raw, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		for at := range 2 { // letters may begin at any byte
			for i := at; i+1 < len(raw); i += 2 {
				units = append(units, binary.BigEndian.Uint16(raw[i:]))
			}
		}
	}
	if streams == 0 {
		t.Fatal("the paper holds nothing")
	}
	return string(utf16.Decode(units)) + string(file)
}

// What is printed of every animal of the sample tells none of the texts that stay, nor any that
// lies where nothing is sifted.
func TestWhatIsPrinted(t *testing.T) {
	tables, err := knowledge.Load(assets.Knowledge())
	if err != nil {
		t.Fatal(err)
	}
	text := papertest.Text(t, "en")
	c, err := collection.New(memory.Open(), collection.Options{Now: papertest.Bramble(t).Issued.Time})
	if err != nil {
		t.Fatal(err)
	}
	if err := demo.Fill(c, tables, text); err != nil {
		t.Fatal(err)
	}
	spare := goes()
	maps.DeleteFunc(spare, func(_, called string) bool { return called != "" })
	own := map[string]bool{"paper.rest.kind": true} // of entries, which cannot be set from elsewhere
	for field := range spare {
		own[field] = true
	}
	var all []animals.Stored
	if err := c.View(func(v model.View) (err error) { all, err = animals.All(v); return err }); err != nil {
		t.Fatal(err)
	}
	told, kept := map[string]bool{}, map[string]bool{}
	for _, a := range all {
		var gathered paper.Gathered
		err := c.View(func(v model.View) (err error) {
			gathered, err = paper.Gather(v, paper.Gathering{Animal: a.ID, Tables: tables, Version: "1.0.0",
				Pictures: func(model.PhotoID, int) ([]byte, error) { return nil, fs.ErrNotExist }})
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		facts, secrets := gathered.Facts(), planting{inner: true, spare: own}
		secrets.plant(reflect.ValueOf(&facts).Elem(), "", 12)
		if !slices.ContainsFunc(secrets.in, func(field string) bool { return !told[field] && !kept[field] }) {
			continue // others had all of that
		}
		withoutPrivate(&facts, text)
		var file bytes.Buffer
		if err := pdf.Write(&file, paper.HealthRecord(facts, text, paper.A4), facts.Issued.Time().UTC()); err != nil {
			t.Fatalf("%s: %v", a.Name, err)
		}
		said := map[string]bool{}
		for _, secret := range regexp.MustCompile("ZQ[0-9]+QZ").FindAllString(printed(t, file.Bytes()), -1) {
			said[secret] = true
		}
		for n, field := range secrets.in {
			_, may := goes()[field]
			switch stands := said[fmt.Sprintf("ZQ%dQZ", n)]; {
			case may:
				told[field] = told[field] || stands
			case stands:
				t.Errorf("the paper of %s prints %s", a.Name, field)
			default:
				kept[field] = true
			}
		}
	}
	if !told["animals.Animal.Name"] || !told["animals.Chip.Digits"] || !told["samples.Result.Report"] {
		t.Errorf("read back is only %v: the search finds nothing", told)
	}
	if len(kept) < 20 {
		t.Errorf("only %d texts could have been printed: %v", len(kept), kept)
	}
}
