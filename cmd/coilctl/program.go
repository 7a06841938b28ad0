package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
	"time"

	"coilward/assets"
	"coilward/model"
	"coilward/model/collection"
	"coilward/model/knowledge"
	"coilward/model/store"
	"coilward/model/wording"
)

// program is one run of coilctl with what it needs of the world.
type program struct {
	out, errors io.Writer
	now         func() time.Time
	verify      func(path string) (store.Report, error)
	language    string // of messages
	languages   *wording.Languages
	text        *wording.Text
	tables      *knowledge.Tables
	takeOver    bool // go on although another machine has the collection open
}

// The exit codes: done, refused or failed, and called wrongly.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2
)

// command is one thing that coilctl does.
type command struct {
	name string
	run  func(p *program, arguments []string) error
}

func commands() []command {
	return []command{
		{"print", (*program).print}, {"verify", (*program).verifyFolder}, {"backup", (*program).backup},
		{"restore", (*program).restore}, {"salvage", (*program).salvage}, {"dump", (*program).dump}, {"load", (*program).load},
		{"calendar", (*program).calendar}, {"export", (*program).export}, {"import", (*program).bring},
		{"make-papers", (*program).makePapers}, {"open-papers", (*program).openPapers},
		{"help", (*program).help}, {"--help", (*program).help}, {"-h", (*program).help},
	}
}

// errUsage is a call that names no command or lacks an argument.
var errUsage = errors.New("called wrongly")

func (p *program) run(arguments []string) int {
	p.out, p.errors = plain{p.out}, plain{p.errors}
	if err := p.prepare(); err != nil {
		fmt.Fprintln(p.errors, err)
		return exitFailed
	}
	err := p.dispatch(arguments)
	var refusal *model.Refusal
	var said worded
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, flag.ErrHelp):
		fmt.Fprintln(p.errors, p.text.Say("ctl.usage"))
		return exitUsage
	case errors.Is(err, errUsage):
		fmt.Fprintln(p.errors, p.usage(arguments))
		return exitUsage
	case errors.As(err, &said): // before what it wraps: of a file that was refused, a refusal in it means nothing to who opens it
		fmt.Fprintln(p.errors, p.refusal(said.Refusal()))
	case errors.As(err, &refusal):
		fmt.Fprintln(p.errors, p.refusal(refusal))
	default:
		fmt.Fprintln(p.errors, p.text.Say("ctl.failed", inLine(gaps{"Cause": err.Error()})))
	}
	return exitFailed
}

// usage says how the command that was called is called, or all of them where none
// was.
func (p *program) usage(arguments []string) string {
	all := p.text.Say("ctl.usage")
	if len(arguments) == 0 {
		return all
	}
	var lines []string
	for line := range strings.Lines(all) {
		if words := strings.Fields(line); len(words) > 1 && words[0] == "coilctl" && words[1] == arguments[0] {
			lines = append(lines, strings.TrimRight(line, "\n"))
		}
	}
	if len(lines) == 0 {
		return all
	}
	return p.text.Say("ctl.called-so", gaps{"Call": oneLine(strings.Join(arguments, " "), 0), "Lines": strings.Join(lines, "\n")})
}

type gaps = map[string]any

// prepare loads the embedded texts and tables.
func (p *program) prepare() (err error) {
	if p.languages, err = wording.Load(assets.Text()); err != nil {
		return fmt.Errorf("read the texts: %w", err)
	}
	p.text = p.languages.In(p.language, wording.Units{})
	if p.tables, err = knowledge.Load(assets.Knowledge()); err != nil {
		return fmt.Errorf("read the tables: %w", err)
	}
	return nil
}

func (p *program) dispatch(arguments []string) error {
	if len(arguments) == 0 {
		return errUsage
	}
	for _, c := range commands() {
		if c.name == arguments[0] {
			return c.run(p, arguments[1:])
		}
	}
	return refuse("ctl.command", arguments[0], "ctl.command.unknown")
}

// refuse is a refusal of an argument, to be said in the person's language.
func refuse(field, value, reason string) error {
	return &model.Refusal{Field: field, Value: value, Reason: reason, Answer: model.Mend}
}

// worded is an error that says in plain words what is wrong.
type worded interface {
	error
	Refusal() *model.Refusal
}

// refuseFile is a refusal of a file with what the system said of it. What has plain
// words already keeps them.
func refuseFile(path, reason string, err error) error {
	if said := (worded)(nil); errors.As(err, &said) {
		return err
	}
	return &model.Refusal{Field: "ctl.file", Value: path, Reason: reason, Answer: model.Mend,
		Gaps: map[string]model.Gap{"Cause": model.TextGap(err.Error())}}
}

// parse reads flags that may stand before, between and after the arguments. One that
// takes a single value and is given twice is refused: nobody can know which is meant.
func parse(flags *flag.FlagSet, arguments []string) (rest []string, err error) {
	flags.SetOutput(io.Discard)
	var twice error
	flags.VisitAll(func(f *flag.Flag) {
		if one, is := f.Value.(flag.Getter); is { // what gathers several values is none
			f.Value = &single{Getter: one, again: func() { twice = refuse("ctl.flag", "--"+f.Name, "ctl.flag.twice") }}
		}
	})
	for {
		err := flags.Parse(arguments)
		if twice != nil {
			return nil, twice
		}
		if err != nil {
			return nil, errors.Join(errUsage, err)
		}
		if flags.NArg() == 0 {
			return rest, nil
		}
		rest = append(rest, flags.Arg(0))
		arguments = flags.Args()[1:]
	}
}

// single is the value of a flag that can be given once.
type single struct {
	flag.Getter
	given bool
	again func()
}

// Set implements flag.Value.
func (s *single) Set(value string) error {
	if s.given {
		s.again()
	}
	s.given = true
	return s.Getter.Set(value)
}

// IsBoolFlag tells the library that the flag stands alone.
func (s *single) IsBoolFlag() bool {
	alone, is := s.Getter.(interface{ IsBoolFlag() bool })
	return is && alone.IsBoolFlag()
}

// one is the only argument that a command takes.
func one(rest []string) (string, error) {
	if len(rest) != 1 || rest[0] == "" {
		return "", errUsage
	}
	return rest[0], nil
}

// open opens a collection that must be there already.
func (p *program) open(folder string) (*store.Store, error) {
	if folder == "" {
		return nil, errUsage
	}
	if !store.Exists(folder) {
		return nil, refuse("collection", folder, "ctl.collection.none")
	}
	return store.Open(folder, p.options())
}

// openOrMake opens a collection, or makes one where there is none.
func (p *program) openOrMake(folder string) (*store.Store, error) {
	return store.Open(folder, p.options())
}

// openToRead opens a collection that must be there already and writes nothing
// into its folder.
func (p *program) openToRead(folder string) (*store.Store, error) {
	if folder == "" {
		return nil, errUsage
	}
	if !store.Exists(folder) {
		return nil, refuse("collection", folder, "ctl.collection.none")
	}
	return store.OpenToRead(folder, p.options())
}

// read is a collection that must be there already, to be read; shut gives it up.
func (p *program) read(folder string) (c *collection.Collection, shut func() error, err error) {
	s, err := p.openToRead(folder)
	if err != nil {
		return nil, nil, err
	}
	if c, err = collection.New(s, collection.Options{Now: p.now}); err != nil {
		return nil, nil, errors.Join(err, s.Close())
	}
	return c, s.Close, nil
}

func (p *program) options() store.Options {
	return store.Options{Now: p.now, Verifier: p.verify, TakeOver: p.takeOver}
}

// help says how coilctl is called.
func (p *program) help([]string) error {
	fmt.Fprintln(p.out, p.text.Say("ctl.usage"))
	return nil
}
