package collection

import "coilward/model"

// Newest is the change that Undo would take back. Of one that was done again after
// it was undone it is the entry of the first time, so that whoever did it knows it
// again. found is false where nothing can be undone.
func (c *Collection) Newest() (e Entry, found bool, err error) {
	err = c.store.View(func(r Reader) error {
		newest, err := newestEntry(r)
		if err != nil || newest.Undo == 0 {
			return err
		}
		if e, err = entryAt(r, newest.Undo); err != nil {
			return err
		}
		for e.Redoes != 0 {
			undo, err := entryAt(r, e.Redoes)
			if err != nil {
				return err
			}
			if e, err = entryAt(r, undo.Undoes); err != nil {
				return err
			}
		}
		found = true
		return nil
	})
	return e, found, err
}

// Written is when the newest change was made, by the clock of that time; zero: nothing
// was changed yet.
func (c *Collection) Written() (at model.Moment, err error) {
	err = c.store.View(func(r Reader) error {
		newest, err := newestEntry(r)
		at = newest.At
		return err
	})
	return at, err
}

// Wrote reports whether this change made or changed a document.
func (e Entry) Wrote(id model.ID) bool {
	for _, s := range e.Steps {
		if s.ID == id {
			return true
		}
	}
	return false
}
