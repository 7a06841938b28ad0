package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Shine is which of the two sets of colours a person wants.
type Shine string

// The choices of colours. Values are frozen: they stand in the settings.
const (
	System  Shine = "" // as the system has it
	ByDay   Shine = "light"
	ByNight Shine = "dark"
)

// NewTheme is the theme of the window.
func NewTheme(s Shine) fyne.Theme { return coat{s, [2]map[Tone]color.NRGBA{light(), dark()}} }

type coat struct {
	shine  Shine
	colour [2]map[Tone]color.NRGBA
}

// stock says which tone Fyne's own names get, so that stock widgets fit in.
func stock(n fyne.ThemeColorName) Tone {
	switch n {
	case theme.ColorNameBackground:
		return Paper
	case theme.ColorNameForeground:
		return Ink
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return Accent
	case theme.ColorNameButton:
		return Well
	case theme.ColorNameInputBackground, theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground:
		return Sheet
	case theme.ColorNameInputBorder:
		return Edge
	case theme.ColorNameSeparator:
		return Hair
	case theme.ColorNamePlaceHolder, theme.ColorNameDisabled:
		return Faint
	case theme.ColorNameHeaderBackground, theme.ColorNameDisabledButton:
		return Rail
	case theme.ColorNameForegroundOnPrimary:
		return OnAccent
	case theme.ColorNameError:
		return Today
	case theme.ColorNameWarning:
		return Days
	case theme.ColorNameSuccess:
		return Often
	case theme.ColorNameSelection, theme.ColorNameHover, theme.ColorNamePressed, theme.ColorNameFocus:
		return Wash // the open menu's title and rows stand in Ink on Focus
	case theme.ColorNameShadow:
		return Shade
	case theme.ColorNameScrollBarBackground:
		return Clear
	}
	return n
}

// Color implements fyne.Theme.
func (c coat) Color(n fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	tones := c.colour[0]
	if c.shine == ByNight || c.shine == System && v == theme.VariantDark {
		tones, v = c.colour[1], theme.VariantDark
	}
	if n == theme.ColorNameScrollBar {
		bar := tones[Edge]
		bar.A = 0x80
		return bar
	}
	if n == theme.ColorNameForeground {
		return legible(tones[Ink])
	}
	if found, ok := tones[stock(n)]; ok {
		return found
	}
	return theme.DefaultTheme().Color(n, v)
}

// legible is an opaque colour from which Fyne can make that of the keys in its
// menus: it takes the low bytes of the channels and of 95 % of the alpha, which
// for 0xFFFF would be next to nothing.
func legible(c color.NRGBA) color.Color {
	return color.RGBA64{R: uint16(c.R) * 0x101, G: uint16(c.G) * 0x101, B: uint16(c.B) * 0x101, A: 0xFFC9}
}

// Font implements fyne.Theme.
func (coat) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Monospace || s.Symbol:
		return theme.DefaultTheme().Font(s)
	case s.Bold:
		return resources[SansBold]
	case s.Italic:
		return resources[SansItalic]
	}
	return resources[Sans]
}

// Icon implements fyne.Theme.
func (coat) Icon(n fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(n) }

// Size implements fyne.Theme.
func (coat) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return Body.Size
	case theme.SizeNameCaptionText:
		return Note.Size
	case theme.SizeNameHeadingText:
		return Heading.Size
	case theme.SizeNamePadding:
		return S4
	case theme.SizeNameInnerPadding:
		return 8 // a stock entry of one line is then 36 px high
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return RBase
	case theme.SizeNameInputBorder, theme.SizeNameSeparatorThickness:
		return 1
	case theme.SizeNameScrollBar, theme.SizeNameScrollBarSmall:
		return 6
	}
	return theme.DefaultTheme().Size(n)
}
