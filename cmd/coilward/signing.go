package main

import (
	"path/filepath"

	"github.com/adrg/xdg"

	"coilward/model/store"
	"coilward/ui/papers"
)

// keyFile is what the file of the key is called.
const keyFile = "signing-key"

// signing is where the key lies: among the user's own settings, and an encrypted copy of
// it among the backups of a collection.
func signing() papers.Signing {
	return papers.Signing{
		Key:    filepath.Join(xdg.ConfigHome, name, keyFile),
		Copies: func(folder string) string { return filepath.Join(folder, store.BackupsFolder) },
	}
}
