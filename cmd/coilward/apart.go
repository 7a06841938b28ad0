package main

import (
	"fmt"
	"slices"

	"coilward/model/store"
	"coilward/ui/shell"
)

// apart is what can be done where other states of a collection lie in its folder.
type apart struct {
	program program
	folder  string
	store   *store.Store
}

// Others implements shell.Apart.
func (a apart) Others() ([]shell.Other, error) {
	found, err := a.store.Apart()
	if err != nil {
		return nil, fmt.Errorf("look for other states of the collection: %w", err)
	}
	var all []shell.Other
	for _, o := range found {
		all = append(all, shell.Other{Path: o.Path, At: momentOf(o.Modified), Changes: int(o.Sequence), Replaced: o.Replaced, Overwritten: o.Overwritten})
	}
	return all, nil
}

// KeepThis implements shell.Apart.
func (a apart) KeepThis() error {
	if err := a.store.KeepThis(); err != nil {
		return fmt.Errorf("go on with the open state of the collection: %w", err)
	}
	return nil
}

// SetThisAside implements shell.Apart.
func (a apart) SetThisAside() error {
	if _, err := a.store.SetThisAside(); err != nil {
		return fmt.Errorf("keep the open state of the collection: %w", err)
	}
	return nil
}

// Take implements shell.Apart.
func (a apart) Take(o shell.Other) error {
	if _, err := store.Take(a.folder, store.Other{Path: o.Path, Replaced: o.Replaced}, a.program.options(false)); err != nil {
		return fmt.Errorf("take the other state of the collection: %w", err)
	}
	return nil
}

// strangers are files that look like conflicted copies by their names and are no
// states of the collection that can be read: a person should look at them.
func strangers(kept *store.Store, folder string) ([]string, error) {
	copies, err := store.Copies(folder)
	if err != nil || len(copies) == 0 {
		return nil, err
	}
	found, err := kept.Apart()
	if err != nil {
		return copies, err
	}
	return slices.DeleteFunc(copies, func(path string) bool {
		return slices.ContainsFunc(found, func(o store.Other) bool { return o.Path == path })
	}), nil
}
