package main

import (
	"path/filepath"

	"github.com/adrg/xdg"
)

// keyFile is what the file of the key is called.
const keyFile = "signing-key"

// keyPath is where the key lies that her papers are signed with: among the user's own
// settings.
func keyPath() string { return filepath.Join(xdg.ConfigHome, name, keyFile) }
