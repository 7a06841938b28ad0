package shell

import (
	"path/filepath"
	"strings"

	"coilward/ui/place"
)

// papersEnding ends the name of a file with the papers of an animal.
const papersEnding = ".herpapers"

// arePapers reports whether a file holds the papers of an animal by its name.
func arePapers(path string) bool { return strings.EqualFold(filepath.Ext(path), papersEnding) }

// StartWith starts with the papers of an animal: they are shown once a collection is
// open, and without one where there is none.
func (s *Shell) StartWith(papers, folder string, sample bool) {
	if s.o.Papers != nil {
		s.papers = papers
	}
	s.Start(folder, sample)
}

// choosePapers asks for the file of an animal's papers and shows it.
func (s *Shell) choosePapers() { s.ChooseFile([]string{papersEnding}, s.OpenPapers) }

// OpenPapers shows the papers of an animal. Without a collection they are told alone;
// where one is begun then, they are shown once more in it.
func (s *Shell) OpenPapers(path string) {
	if s.session != nil {
		s.papers = ""
		s.Go(place.Route{To: place.HerPapers, Page: path})
		return
	}
	s.papers = path
	s.rail.object.Hide()
	s.show(s.o.Papers(s, path, s.first, func() {
		s.papers = ""
		s.first()
	}))
	s.bar.update()
	s.menus()
}
