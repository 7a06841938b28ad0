package lines

import (
	_ "embed"
	"path/filepath"
	"strings"

	"coilward/model/disk"
)

//go:embed line.schema.json
var schema string

// Schema is the JSON schema of one line, by the draft of 2020-12. Of kinds of
// entry that only a newer program knows it tells the header alone.
func Schema() string { return schema }

// Beginning is how every such schema begins.
const Beginning = `{
 "$schema": "https://json-schema.org/draft/2020-12/schema",
 "title": "One line of a collection written whole"`

// Beside is the path of the schema for lines at a path.
func Beside(path string) string {
	return strings.TrimSuffix(path, filepath.Ext(path)) + ".schema.json"
}

// WriteSchema writes the schema into a file, whole or not at all.
func WriteSchema(path string) error { return disk.Write(path, []byte(schema)) }
