package newcomers

import (
	"context"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"coilward/model"
	"coilward/model/chances"
	"coilward/model/evidence"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// rooms are the chances that at least one in each room of newcomers carries a thing. They
// are worked out off Fyne's goroutine, for they rest on the whole collection, and anew only
// where that changed; what changes meanwhile is read next.
type rooms struct {
	*fyne.Container
	page    *Page
	working bool
	again   bool
}

// roomChances is what is known of one room.
type roomChances struct {
	id     model.PlaceID
	title  string
	living int
	all    []chances.Joint
	unread []model.Label             // what of all that they rest on cannot be read
	names  map[model.AnimalID]string // of those in which something was detected
}

func newRooms(p *Page) *rooms {
	r := &rooms{Container: widgets.Stack(), page: p}
	r.Hide()
	return r
}

// read works them out anew.
func (r *rooms) read() {
	if r.again = r.working; r.working {
		return
	}
	var next []roomChances
	for _, n := range r.page.board.Open {
		if !n.Room.IsZero() && !slices.ContainsFunc(next, func(o roomChances) bool { return o.id == n.Room }) {
			next = append(next, roomChances{id: n.Room, title: n.RoomTitle})
		}
	}
	if len(next) == 0 {
		r.show(nil)
		return
	}
	r.working = true
	w := r.page.window
	w.Task(w.Text().Say("chance.reading"), func(context.Context, func(float64)) error {
		return w.Collection().View(func(v model.View) error {
			return w.Chances().Ask(v, func(r *chances.Reader) error {
				for i := range next {
					living, all := r.OfRoom(next[i].id, v.Now())
					next[i].living, next[i].all, next[i].unread, next[i].names = len(living), all, r.CannotRead(), map[model.AnimalID]string{}
					for _, id := range living {
						next[i].names[id] = r.Name(id)
					}
				}
				return nil
			})
		})
	}, func(err error) {
		r.working = false
		if err != nil {
			r.failed()
		} else {
			r.show(next)
		}
		if r.again {
			r.read()
		}
	})
}

// show shows them, room by room; the rest of the page stays as it is.
func (r *rooms) show(known []roomChances) {
	if len(known) == 0 {
		r.put()
		return
	}
	r.put(r.part(known))
}

// failed says that they could not be worked out.
func (r *rooms) failed() {
	w := r.page.words()
	r.put(widgets.Col(look.S12, widgets.Line(w.Say("chance.rooms"), look.Section, look.Ink), widgets.Caution(w.Say("chance.fault")+". "+w.Say("chance.fault-what")),
		widgets.Row(0, widgets.Button(widgets.Plain, widgets.Act{Label: w.Say("chance.again"), Do: r.read}))))
}

// put puts a part in place of what is shown, or nothing.
func (r *rooms) put(part ...fyne.CanvasObject) {
	r.Objects, r.Hidden = part, len(part) == 0
	r.Refresh()
	if r.page.scroll != nil {
		r.page.column.Refresh()
		r.page.scroll.Refresh()
	}
}

func (r *rooms) part(known []roomChances) fyne.CanvasObject {
	w := r.page.words()
	rows := widgets.Col(look.S12, widgets.Line(w.Say("chance.rooms"), look.Section, look.Ink))
	for _, room := range known {
		said := widgets.Col(look.S4)
		for _, one := range room.all {
			key := "chance.room"
			if one.Silent {
				key = "chance.room-silent"
			}
			said.Add(widgets.Para(w.Say(key, map[string]any{"Room": room.title, "Agent": w.Say("agent." + string(one.Of)), "Chance": one.Chance.Told().Label()}), look.Body, look.Ink))
			var named []string
			for _, id := range one.Detected {
				named = append(named, room.names[id])
			}
			if len(named) > 0 {
				said.Add(widgets.Para(w.Say("chance.room-detected", map[string]any{"Names": strings.Join(named, ", ")}), look.BodyBold, look.Today))
			}
		}
		if slices.ContainsFunc(room.all, func(one chances.Joint) bool { return one.Linkage != evidence.Whole }) {
			said.Add(widgets.Para(w.Say("chance.room-pools"), look.Note, look.Soft))
		}
		said.Add(widgets.Para(w.Count("chance.room-of", room.living), look.Note, look.Soft))
		if slices.ContainsFunc(room.all, func(one chances.Joint) bool { return one.Spoilt }) {
			said.Add(widgets.Para(w.Say("chance.room-own"), look.Note, look.Soft))
		}
		rows.Add(said)
	}
	for _, l := range known[0].unread {
		rows.Add(widgets.Caution(w.Label(l)))
	}
	rows.Add(widgets.Para(w.Say("chance.room-next"), look.Body, look.Ink))
	rows.Add(widgets.Para(w.Say("chance.cannot.never"), look.Note, look.Soft))
	return rows
}
