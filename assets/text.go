package assets

import (
	"embed"
	"io/fs"
)

//go:embed text/en/*.json text/de/*.json
var textFiles embed.FS

// Text holds the catalogues: a folder per language with its JSON files.
func Text() fs.FS { return below(textFiles, "text") }

//go:embed knowledge
var knowledgeFiles embed.FS

// Knowledge holds the tables of ids, numbers and sources at its top.
func Knowledge() fs.FS { return below(knowledgeFiles, "knowledge") }

func below(files fs.FS, folder string) fs.FS {
	sub, err := fs.Sub(files, folder)
	if err != nil {
		panic("assets: no folder " + folder + ": " + err.Error())
	}
	return sub
}
