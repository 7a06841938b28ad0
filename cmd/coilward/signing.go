package main

import (
	"errors"
	"io/fs"
	"log/slog"
	"path/filepath"

	"github.com/adrg/xdg"

	"coilward/export/handover"
	"coilward/model/store"
)

// keyFile is what the file of the key is called.
const keyFile = "signing-key"

// keyPath is where the key lies that her papers are signed with: among the user's own
// settings.
func keyPath() string { return filepath.Join(xdg.ConfigHome, name, keyFile) }

// keyAway reports whether there is no key here, while a copy of one lies among the backups
// of a folder.
func keyAway(folder string) bool { return keyIsAway(keyPath(), folder) }

func keyIsAway(path, folder string) bool {
	if _, err := handover.ReadKey(path); !errors.Is(err, fs.ErrNotExist) {
		return false
	}
	copies, err := store.KeyCopies(folder)
	if err != nil { // what could be listed counts; the card of the key tells why not all could be
		slog.Warn("look for copies of the key", "error", err)
	}
	return len(copies) > 0
}
