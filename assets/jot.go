package assets

import (
	"embed"
	"io/fs"
)

//go:embed jot/*.txt
var jotFiles embed.FS

// Jot holds the words of jots, a file per language, at its top.
func Jot() fs.FS { return below(jotFiles, "jot") }
