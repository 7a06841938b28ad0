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

// isCopy takes every file whose name has ours in it with something added before, in
// or behind it, such as "collection (conflicted copy).db", "collection (1).db",
// "collection-conflict-2.db", "Copy of collection.db" or "collection.db.conflict":
// the marks differ from program to program and language to language (common
// practice, no source). What is in the file decides in the end.
func isCopy(name string) bool {
	lower := strings.ToLower(name)
	begin, end, _ := strings.Cut(fileName, ".")
	return name != fileName && strings.Contains(lower, begin) && strings.Contains(lower, "."+end) && !strings.HasSuffix(lower, ".new")
}
