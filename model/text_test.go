package model_test

import (
	"strings"
	"testing"

	"coilward/model"
)

func TestCheckText(t *testing.T) {
	for _, c := range []struct {
		name, value string
		text, line  string // the reason why it cannot stand there; empty: it can
	}{
		{"nothing", "", "", ""},
		{"words", "Łoś ♀ 12 °C", "", ""},
		{"an emoji that is joined", "\U0001f469\u200d\U0001f52c", "", ""},
		{"two lines", "one\ntwo", "", "text.control"},
		{"a tab", "one\ttwo", "", "text.control"},
		{"a line separator", "one\u2028two", "", "text.control"},
		{"a zero byte", "a\x00b", "text.control", "text.control"},
		{"half a letter", "a\xc3", "text.control", "text.control"},
		{"turned direction", "a\u202eb", "text.control", "text.control"},
		{"an isolate", "a\u2067b", "text.control", "text.control"},
		{"spaces alone", "   ", "", "text.control"},
		{"invisible signs alone", "\u200b\u2060", "", "text.control"},
		{"empty letters alone", "\u3164\u2800", "", "text.control"},
		{"an accent alone", "\u0301", "", "text.control"},
		{"as long as may be", strings.Repeat("ü", 20), "", ""},
		{"too long", strings.Repeat("ü", 21), "text.long", "text.long"},
	} {
		for check, want := range map[string]string{"text": c.text, "line": c.line} {
			r := model.CheckText("note", c.value, 20)
			if check == "line" {
				r = model.CheckLine("note", c.value, 20)
			}
			got := ""
			if r != nil {
				got = r.Reason
				if r.Field != "note" || r.Value != c.value || r.Answer != model.Mend {
					t.Errorf("%s as %s: %+v", c.name, check, r)
				}
			}
			if got != want {
				t.Errorf("%s as %s: %q, want %q", c.name, check, got, want)
			}
		}
	}
}
