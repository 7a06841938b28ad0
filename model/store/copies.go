package store

import (
	"os"
	"path/filepath"
	"strings"
)

// Copies are files in a collection's folder that a program which keeps folders
// of several machines alike made when both had changed it, such as
// "collection (conflicted copy).db" or "collection 2.db". They may hold entries
// that the collection lacks.
func Copies(folder string) ([]string, error) {
	files, err := os.ReadDir(folder)
	if err != nil {
		return nil, fault(folder, "look for conflicted copies", err)
	}
	var copies []string
	for _, f := range files {
		if f.Type().IsRegular() && isCopy(f.Name()) {
			copies = append(copies, filepath.Join(folder, f.Name()))
		}
	}
	return copies, nil
}

// isCopy takes every database whose name begins like ours, because the marks
// differ from program to program and language to language.
func isCopy(name string) bool {
	lower := strings.ToLower(name)
	return name != fileName && strings.HasPrefix(lower, "collection") && strings.HasSuffix(lower, ".db")
}
