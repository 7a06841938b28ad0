package wording

import "strings"

// sourceFamily is the family of the phrases that sources are made of.
const sourceFamily = "source."

// phrases are the keys of the family by their English texts, which are what the
// tables write.
func (l *Languages) phrases(family string) map[string]string {
	keys := map[string]string{}
	for key, m := range l.catalogues["en"].texts {
		if strings.HasPrefix(key, family) {
			keys[m.Other] = key
		}
	}
	return keys
}

// Source says a source of the tables, such as "seen: veterinary emergency-triage
// page; common practice, no source". It is made of phrases, one after another
// behind "; ", ": " and ", ", with a note in brackets behind some. Those that the
// catalogue has are said in the language; what else stands there, such as the title
// of a publication, stays as it is.
func (t *Text) Source(source string) string {
	parts := strings.Split(source, "; ")
	for i, part := range parts {
		parts[i] = t.phrase(part)
	}
	return strings.Join(parts, "; ")
}

func (t *Text) phrase(part string) string {
	if key, ok := t.sources[part]; ok {
		return t.Say(key)
	}
	if inner, ok := strings.CutSuffix(part, ")"); ok {
		if at := strings.LastIndex(inner, " ("); at >= 0 {
			if key, ok := t.sources[inner[at+2:]]; ok {
				return t.phrase(inner[:at]) + " (" + t.Say(key) + ")"
			}
		}
	}
	for _, between := range []string{": ", ", "} {
		for at := range part {
			rest, parted := strings.CutPrefix(part[at:], between)
			if head := part[:at]; parted && (t.sources[head] != "" || t.sources[rest] != "") {
				return t.phrase(head) + between + t.phrase(rest)
			}
		}
	}
	return part
}
