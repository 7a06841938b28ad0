package collection

import (
	"slices"
	"sync"

	"coilward/model"
)

// kept holds the decoded documents of things with a life, which are read again and
// again as a whole: places, stays, animals. A revision once committed never
// changes, so that one of the same number is the same document. Entries, of which
// there is no end, are not kept.
type kept struct {
	mutex     sync.RWMutex
	documents map[model.ID]model.Document
}

// mostKept bounds what is held: beyond it all is read anew.
const mostKept = 100_000

func keeps(t model.DocumentType) bool {
	switch t {
	case model.TypeAnimal, model.TypePlace, model.TypeStay, model.TypeTool, model.TypeInstrument, model.TypePerson, model.TypeProblem:
		return true
	}
	return false
}

// find is a revision of a document, where it is held. Its slices may be appended
// to, but their elements are shared.
func (k *kept) find(id model.ID, revision uint32) (model.Document, bool) {
	k.mutex.RLock()
	defer k.mutex.RUnlock()
	d, held := k.documents[id]
	if !held || d.Revision != revision {
		return model.Document{}, false
	}
	return d, true
}

// keep holds a committed revision, instead of another one of the same document.
func (k *kept) keep(d model.Document) {
	if !keeps(d.Type) {
		return
	}
	d.Subjects, d.Body = slices.Clip(d.Subjects), slices.Clip(d.Body)
	k.mutex.Lock()
	defer k.mutex.Unlock()
	if k.documents == nil || len(k.documents) >= mostKept {
		k.documents = map[model.ID]model.Document{}
	}
	k.documents[d.ID] = d
}
