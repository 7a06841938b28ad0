package main

import (
	"context"
	"errors"
	"flag"
	"runtime"
	"slices"
	"strconv"

	"coilward/export/calendar"
	"coilward/model"
	"coilward/model/due"
	"coilward/model/wording"
)

// calendar writes what is due in the coming weeks as a calendar.
func (p *program) calendar(arguments []string) (err error) {
	var folder, out, language string
	weeks := calendar.Usual
	flags := flag.NewFlagSet("calendar", flag.ContinueOnError)
	flags.StringVar(&folder, "collection", "", "")
	flags.StringVar(&out, "out", "", "")
	flags.StringVar(&language, "lang", p.language, "")
	flags.IntVar(&weeks, "weeks", weeks, "")
	rest, err := parse(flags, arguments)
	switch {
	case err != nil:
		return err
	case len(rest) != 0 || folder == "" || out == "":
		return errUsage
	case weeks < 1 || weeks > calendar.Weeks:
		return refuse("ctl.weeks", strconv.Itoa(weeks), "ctl.weeks.range")
	case !slices.Contains(p.languages.Codes(), language):
		return refuse("ctl.language", language, "ctl.language.unknown")
	}
	if err := errors.Join(usable(out, runtime.GOOS), outside(out, folder), over(out, "BEGIN:VCALENDAR", "ctl.file.no-calendar")); err != nil {
		return err
	}
	c, shut, err := p.read(folder)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shut()) }()
	var now model.Moment
	if err := c.View(func(v model.View) error { now = v.Now(); return nil }); err != nil {
		return err
	}
	list, err := due.NewBook(p.tables).Bring(context.Background(), c, nil)
	if err != nil {
		return err
	}
	text := p.languages.In(language, wording.Units{})
	entries := calendar.Entries(list, weeks, text)
	if err := calendar.WriteFile(out, entries, now, text); err != nil {
		return err
	}
	p.counted("ctl.calendar.done", len(entries), gaps{"File": out})
	return nil
}
