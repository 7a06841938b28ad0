// Command coilward is the window: it reads the flags, wires what the program
// consists of and starts it. It decides nothing else.
//
//	coilward [--collection DIR | --sample] [--lang en|de] [FILE.herpapers]
package main

import (
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"os"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/lang"

	"coilward/assets"
	"coilward/model/jot"
	"coilward/model/knowledge"
	"coilward/model/store"
	"coilward/model/wording"
	"coilward/ui/handover"
	"coilward/ui/shell"
)

// What the program is called, to people and to the system.
const (
	name       = "Coilward"
	identifier = "app.coilward.desktop"
)

// flags are what the program was started with.
type flags struct {
	collection string
	sample     bool
	language   string
	timing     bool
	papers     string // of an animal, to be shown
}

func main() {
	if store.MainVerify(os.Args) {
		return
	}
	if err := run(readFlags()); err != nil {
		fmt.Fprintln(os.Stderr, "coilward:", err)
		os.Exit(1)
	}
}

func readFlags() flags {
	var f flags
	flag.StringVar(&f.collection, "collection", "", "open the collection in this `folder`, or make one there")
	flag.BoolVar(&f.sample, "sample", false, "look around with the sample collection; it leaves no trace")
	flag.StringVar(&f.language, "lang", "", "`language` of this start: en or de")
	flag.BoolVar(&f.timing, "timing", false, "say on the standard output how quickly the drawing answers")
	flag.Parse()
	f.papers = flag.Arg(0)
	return f
}

// run opens the window and returns when it is closed.
func run(f flags) error {
	languages, err := wording.Load(assets.Text())
	if err != nil {
		return fmt.Errorf("read the texts: %w", err)
	}
	tables, broken := knowledge.Load(assets.Knowledge())
	lexicon, unread := jot.Load(assets.Jot())
	a := newApp()
	if f.timing {
		slog.SetDefault(slog.New(&timing{Handler: slog.NewTextHandler(os.Stderr, nil), out: os.Stdout}))
	}
	p := program{now: time.Now}
	s := shell.New(shell.Options{
		App: a, Languages: languages, Tables: tables, Lexicon: lexicon, Broken: errors.Join(broken, unread), Now: p.now, System: languages.Nearest(lang.SystemLocale().String()), Forced: f.language,
		Places: rooms(), First: firstPage, Papers: handover.Alone, Suggested: suggested(),
		Open: p.open, OpenToRead: p.openToRead, Sample: p.sample(tables), Alert: alert, Forward: store.RequestForward, Holds: store.Holds, Restore: p.restore,
		Newest: p.newestBackup, Salvage: p.salvage, KeyAway: keyAway,
	})
	done := make(chan struct{})
	a.Lifecycle().SetOnStarted(func() {
		s.StartWith(f.papers, f.collection, f.sample)
		go look(s, done)
	})
	a.Lifecycle().SetOnStopped(func() {
		close(done)
		s.Stopped()
	})
	s.Window().ShowAndRun()
	return nil
}

// newApp is Fyne's app, with its name, icon and the size of everything.
func newApp() fyne.App {
	icon := fyne.NewStaticResource("coilward.png", assets.Icon())
	app.SetMetadata(fyne.AppMetadata{ID: identifier, Name: name, Version: assets.Version, Build: 1, Icon: icon})
	a := app.NewWithID(identifier)
	a.SetIcon(icon)
	if percent := shell.Scale(a.Preferences()); percent > 0 && os.Getenv("FYNE_SCALE") == "" {
		// Fyne knows no other way to be told
		if err := os.Setenv("FYNE_SCALE", fmt.Sprintf("%.2f", float64(percent)/100)); err != nil {
			slog.Warn("set the size of everything", "error", err)
		}
	}
	return a
}

// look asks a few times a second whether a second start wants this window.
func look(s *shell.Shell, done <-chan struct{}) {
	ticks := time.NewTicker(400 * time.Millisecond)
	defer ticks.Stop()
	for {
		select {
		case <-done:
			return
		case <-ticks.C:
			fyne.Do(s.Look)
		}
	}
}
