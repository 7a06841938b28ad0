package paper

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestName is how many bytes a file's name may have without its ending, so
// that the ending and a folder's path still fit where paths are short.
const longestName = 120

// FileName is a name for a file that every system takes, made of parts such as
// a paper's and an animal's: no separators or signs that Windows refuses, no
// trailing dots or spaces, none of its reserved names. The ending, such as
// ".pdf", is added. Source: Microsoft, "Naming Files, Paths, and Namespaces"
// (from memory).
func FileName(ending string, parts ...string) string {
	name := strings.Map(safeSign, strings.ToValidUTF8(strings.Join(parts, " "), "_"))
	for len(name) > longestName {
		_, size := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-size]
	}
	name = strings.Trim(name, " .\u00a0")
	if name == "" || reserved(name) {
		name = "_" + name
	}
	return name + ending
}

func safeSign(r rune) rune {
	switch {
	case strings.ContainsRune(`<>:"/\|?*`, r), unicode.IsControl(r), unicode.Is(unicode.Cf, r):
		return '_'
	case unicode.IsSpace(r):
		return ' '
	}
	return r
}

// reserved reports whether Windows keeps the name for a device, with whatever
// ending.
func reserved(name string) bool {
	base, _, _ := strings.Cut(strings.ToUpper(name), ".")
	base = strings.TrimRight(base, " ")
	switch base {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	for _, port := range []string{"COM", "LPT"} {
		if rest, ok := strings.CutPrefix(base, port); ok && utf8.RuneCountInString(rest) == 1 && strings.Contains("0123456789¹²³", rest) {
			return true
		}
	}
	return false
}
