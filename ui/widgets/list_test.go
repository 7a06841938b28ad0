package widgets

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"coilward/ui/look"
)

// choiceOf is a list of n choices in a window, its search field focused.
func choiceOf(t *testing.T, n, holds int) (c *ChoiceList, chosen *[]int) {
	t.Helper()
	app := test.NewTempApp(t)
	app.Settings().SetTheme(look.NewTheme(look.ByDay))
	choices := make([]Choice, n)
	for i := range choices {
		choices[i].Label = fmt.Sprintf("choice %02d", i)
	}
	c = NewChoiceList("search", "nothing fits", choices)
	c.Mark(holds)
	chosen = &[]int{}
	c.OnChosen = func(i int) { *chosen = append(*chosen, i) }
	w := test.NewTempWindow(t, c.Container)
	w.Resize(fyne.NewSize(400, 300))
	w.Canvas().Focus(c.Search().Focusable())
	return c, chosen
}

// lit are the labels of the rows that show the mark.
func lit(c *ChoiceList) (labels []string) {
	for i := range c.left {
		row := c.rows.CreateItem().(*fyne.Container).Objects[0]
		c.fill(i, row)
		parts := row.(*fyne.Container).Objects
		if parts[0].Visible() {
			labels = append(labels, parts[1].(*fyne.Container).Objects[0].(*fyne.Container).Objects[0].(*fyne.Container).Objects[0].(*Text).Text())
		}
	}
	return labels
}

// Up and down in the search field move the mark, which shows, over the rows that are
// left; Enter takes the row that has it.
func TestChoiceList_ArrowsMoveTheMarkThatEnterTakes(t *testing.T) {
	up, down, enter := fyne.KeyUp, fyne.KeyDown, fyne.KeyReturn
	for _, c := range []struct {
		name  string
		holds int
		typed string
		keys  []fyne.KeyName
		want  int
	}{
		{"none yet", -1, "", nil, -1},
		{"the first", -1, "", []fyne.KeyName{down}, 0},
		{"down and down", -1, "", []fyne.KeyName{down, down, down}, 2},
		{"up again", -1, "", []fyne.KeyName{down, down, down, up}, 1},
		{"the first that fits", -1, "choice 1", nil, 10},
		{"not above the first", -1, "", []fyne.KeyName{up, up}, 0},
		{"from the one that holds", 5, "", []fyne.KeyName{down}, 6},
		{"not below the last", 29, "", []fyne.KeyName{down, down}, 29},
		{"among those that fit", 5, "choice 1", []fyne.KeyName{down, down}, 12},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, chosen := choiceOf(t, 30, c.holds)
			if c.typed != "" {
				list.Search().Type(c.typed)
			}
			for _, k := range c.keys {
				list.Search().Focusable().TypedKey(&fyne.KeyEvent{Name: k})
			}
			marked, taken := "[]", "[]"
			if c.want >= 0 {
				marked, taken = fmt.Sprintf("[choice %02d]", c.want), fmt.Sprint([]int{c.want})
			}
			if got, want := fmt.Sprint(lit(list)), marked; got != want {
				t.Errorf("the mark is at %s, want %s", got, want)
			}
			list.Search().Focusable().TypedKey(&fyne.KeyEvent{Name: enter})
			if got, want := fmt.Sprint(*chosen), taken; got != want {
				t.Errorf("chosen %s, want %s", got, want)
			}
		})
	}
}

// The row that the arrows go to comes into sight.
func TestChoiceList_TheMarkComesIntoSight(t *testing.T) {
	list, _ := choiceOf(t, 60, -1)
	before := list.rows.GetScrollOffset()
	for range 40 {
		list.Search().Focusable().TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	}
	if now := list.rows.GetScrollOffset(); now <= before {
		t.Errorf("scrolled from %v to %v", before, now)
	}
}

// A list longer than its room opens at the row that holds, or at its beginning; it is
// marked before there is a room.
func TestChoiceList_OpensWithTheMarkInSight(t *testing.T) {
	for _, c := range []struct{ n, holds int }{{60, -1}, {60, 0}, {60, 2}, {60, 30}, {60, 59}, {4, 3}} {
		list, _ := choiceOf(t, c.n, c.holds)
		top := max(0, float32(c.holds)*(list.rows.height+theme.Padding()))
		from, high := list.rows.GetScrollOffset(), list.rows.Size().Height
		if c.holds < 3 && from != 0 || top < from || top+list.rows.height > from+high {
			t.Errorf("%d of %d: the row is at %v, in sight are %v to %v", c.holds, c.n, top, from, from+high)
		}
	}
}
