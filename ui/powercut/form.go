package powercut

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/powercut"
	"coilward/ui/look"
	"coilward/ui/particulars"
	"coilward/ui/place"
	"coilward/ui/widgets"
)

// Where a power cut was, as it is chosen.
const (
	whole = "whole"
	some  = "some"
)

func (p *Page) add() {
	if !p.holds() {
		p.edit(nil)
	}
}

// edit asks for a power cut; before is one that is put right.
func (p *Page) edit(before *powercut.Stored) {
	t, now := p.window.Text(), p.window.Now()
	f := particulars.NewSideForm(p.window)
	was := powercut.Stored{Cut: powercut.Cut{Whole: true}}
	title, hours := p.say("power-cut.add"), [2]string{"", t.Time(now)}
	days := [2]model.Day{now.Day(), now.Day()}
	if before != nil {
		was, title = *before, p.say("power-cut.correct")
		hours, days = [2]string{t.Time(was.From), t.Time(was.Until)}, [2]model.Day{was.From.Day(), was.Until.Day()}
	}
	cold := ""
	if was.Coldest != nil {
		cold = t.Temperature(*was.Coldest)
	}
	where := some
	if was.Whole {
		where = whole
	}
	chosen := map[model.PlaceID]bool{}
	for _, id := range was.Places {
		chosen[id] = !was.Whole
	}
	rooms := widgets.Stack()
	var showRooms func()
	showRooms = func() {
		rows := widgets.Col(0)
		for _, one := range p.house.Places() {
			if _, closed := p.house.Closed(one.ID); !one.Parent.IsZero() && !chosen[one.ID] || closed && !chosen[one.ID] {
				continue
			}
			rows.Add(widgets.CheckRow(chosen[one.ID], p.house.Title(one.ID), "", "", func(on bool) {
				chosen[one.ID] = on
				showRooms()
			}))
		}
		rooms.Objects = nil
		if where == some {
			rooms.Objects = []fyne.CanvasObject{rows}
		}
		rooms.Refresh()
		f.Refresh()
	}
	few := particulars.NewFew(p.say("power-cut.what-where"), []string{whole, some}, []string{p.say("power-cut.all-rooms"), p.say("power-cut.some-rooms")}, where, func(v string) {
		where = v
		showRooms()
	})
	showRooms()
	moment := func(name, at string, day model.Day, hour string) fyne.CanvasObject {
		return widgets.RowFill(look.S8, widgets.Grow(f.Day(name, "", day)), widgets.Fix(112, 0, f.Field(at, hour, widgets.FieldOptions{Hint: p.say("power-cut.hour-hint")})))
	}
	parts := []fyne.CanvasObject{few.Container, rooms, moment("cut-from", "cut-from-hour", days[0], hours[0]), moment("cut-until", "cut-until-hour", days[1], hours[1]),
		f.Field("coldest", cold, widgets.FieldOptions{Hint: p.say("power-cut.cold-hint")}), f.Field("note", was.Note, widgets.FieldOptions{Rows: 2})}
	if before != nil {
		parts = append(parts, widgets.Button(widgets.Quiet, widgets.Act{Label: p.say("power-cut.remove"), Icon: "bin", Do: func() {
			f.Do(powercut.Remove{Entry: before.ID}, p.kept)
		}}))
	}
	read := func(name, at string) (model.Moment, error) {
		day, err := t.ParseDay(f.Text(name), now.Day())
		if err != nil {
			return model.Moment{}, particulars.At(name, err)
		}
		minutes, err := t.ParseTime(f.Text(at))
		if err != nil {
			return model.Moment{}, particulars.At(at, err)
		}
		return model.MomentOn(p.window.Now(), day, minutes, model.ToMinute), nil
	}
	f.Chosen = func() string { return where + fmt.Sprint(p.chosen(chosen)) }
	f.Command = func(a place.Answer) (model.Command, error) {
		c := powercut.Note{By: p.window.By(), Confirmed: a.Confirmed, Cut: powercut.Cut{Whole: where == whole, Note: f.Text("note"), Coldest: was.Coldest}}
		if where == some {
			c.Places = p.chosen(chosen)
		}
		var err error
		if c.From, err = read("cut-from", "cut-from-hour"); err != nil {
			return nil, err
		}
		if c.Cut.Until, err = read("cut-until", "cut-until-hour"); err != nil {
			return nil, err
		}
		if typed := f.Text("coldest"); typed == "" {
			c.Cut.Coldest = nil
		} else if typed != cold {
			warmth, err := t.ParseTemperature(typed)
			if err != nil {
				return nil, particulars.At("coldest", err)
			}
			c.Cut.Coldest = &warmth
		}
		if before != nil {
			return powercut.Change{Entry: before.ID, Base: before.Revision, Note: c}, nil
		}
		return c, nil
	}
	f.Done = p.kept
	f.Build(title, p.say("particulars.keep"), p.close, parts...)
	p.form, p.open = f, model.EntryID{}
	if before != nil {
		p.open = before.ID
	}
	p.build()
	p.window.Focus(f.First())
}

// chosen are the rooms that are ticked, in their order.
func (p *Page) chosen(ticked map[model.PlaceID]bool) (all []model.PlaceID) {
	for _, one := range p.house.Places() {
		if ticked[one.ID] && !slices.Contains(all, one.ID) {
			all = append(all, one.ID)
		}
	}
	return all
}

func (p *Page) kept() {
	p.form, p.open = nil, model.EntryID{}
	p.read()
	p.window.Focus(nil)
}

func (p *Page) close() {
	p.form, p.open = nil, model.EntryID{}
	p.build()
	p.window.Focus(nil)
}
