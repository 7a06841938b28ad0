package handover

import (
	"fmt"
	"strings"
	"unicode"

	"coilward/model"
)

// Why says in one word what is wrong with a file. Values are frozen; the text is
// "refusal.papers." + value.
type Why string

// What can be wrong.
const (
	NotPapers  Why = "none"     // it is no file of this kind
	TooLarge   Why = "large"    // the file, or a part of it
	Packed     Why = "packed"   // compressed or encrypted
	Unsigned   Why = "unsigned" // the signature is missing
	Forged     Why = "forged"   // the signature is not of this list
	Newer      Why = "newer"    // a newer version of the program is needed
	Misnamed   Why = "name"     // a part that does not belong in it, or twice, or in another order
	Missing    Why = "missing"  // a part is missing, or the file ends early
	Extra      Why = "extra"    // something lies behind its end
	Changed    Why = "changed"  // bytes of a part are not those that were signed
	Frame      Why = "frame"    // bytes between the parts are not those that were written
	Unreadable Why = "record"   // signed, but no record
	Picture    Why = "picture"  // signed, but no photo
	Vast       Why = "vast"     // a photo of more pixels than any camera's
)

// Fault says what is wrong with a file and at which part of it.
type Fault struct {
	Part string // such as "record.json"; empty: the whole
	Why  Why
	Err  error // more of it, for logs; nil: nothing
}

// Error says it for logs.
func (f *Fault) Error() string {
	said := fmt.Sprintf("her papers, %q: %s", f.Part, f.Why)
	if f.Err != nil {
		said += ": " + f.Err.Error()
	}
	return said
}

// Unwrap is what was wrong underneath.
func (f *Fault) Unwrap() error { return f.Err }

// Refusal says it to people.
func (f *Fault) Refusal() *model.Refusal {
	return &model.Refusal{Field: "papers", Value: f.Part, Reason: "papers." + string(f.Why), Answer: model.Mend,
		Gaps: map[string]model.Gap{"Part": model.TextGap(f.Part)}}
}

func fault(part string, why Why, err error) error { return &Fault{Part: part, Why: why, Err: err} }

// longestPart is how many characters of the name of a part are told.
const longestPart = 60

// shown is a name out of a file, as it can be told.
func shown(name string) string {
	name = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(name, string(unicode.ReplacementChar)))
	if letters := []rune(name); len(letters) > longestPart {
		return string(letters[:longestPart]) + "…"
	}
	return name
}
