package particulars

import (
	"strconv"

	"fyne.io/fyne/v2"

	"coilward/ui/look"
	"coilward/ui/widgets"
)

// Few is a choice of few under a caption, all in sight; they go on in a second
// row where one is too narrow.
type Few struct {
	*fyne.Container
	caption string
	values  []string
	words   []string
	chips   []*widgets.Press
	value   string
	picked  func(value string)
	free    bool // pressing what is chosen chooses nothing
	figures bool // each choice shows its figure
}

// NewFew makes the choice; words[i] is what values[i] is called.
func NewFew(caption string, values, words []string, value string, picked func(value string)) *Few {
	f := &Few{Container: widgets.Stack(), caption: caption, values: values, words: words, value: value, picked: picked}
	f.show()
	return f
}

// Optional lets what is chosen be pressed again, for nothing.
func (f *Few) Optional() *Few { f.free = true; return f }

// Numbered shows before each choice the figure that chooses it.
func (f *Few) Numbered() *Few {
	f.figures = true
	f.show()
	return f
}

// Choose chooses the value at that index, if there is one.
func (f *Few) Choose(i int) {
	if i >= 0 && i < len(f.values) {
		f.pick(f.values[i])
	}
}

// pick chooses a value. The chips stay, and with them the keys.
func (f *Few) pick(value string) {
	f.value = value
	for i, chip := range f.chips {
		chip.SetOn(f.values[i] == value)
	}
	f.picked(value)
}

func (f *Few) show() {
	chips := widgets.Wrap(look.S8)
	f.chips = nil
	for i, v := range f.values {
		words := f.words[i]
		if f.figures {
			words = strconv.Itoa(i+1) + " " + words
		}
		chip := widgets.Chip("", words, v == f.value, func() {
			if f.free && v == f.value {
				f.pick("")
			} else {
				f.pick(v)
			}
		})
		f.chips = append(f.chips, chip)
		chips.Add(chip)
	}
	f.Objects = []fyne.CanvasObject{widgets.Col(look.S8, widgets.Line(f.caption, look.NoteBold, look.Soft), chips)}
	f.Refresh()
}
