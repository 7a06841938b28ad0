package assets

import (
	"embed"
	"io/fs"
)

//go:embed fonts/*.ttf
var fontFiles embed.FS

// Fonts holds the faces as TrueType files at its top, such as
// "NotoSans-Regular.ttf". Their licence is the SIL Open Font License in
// fonts/OFL.txt.
func Fonts() fs.FS {
	files, err := fs.Sub(fontFiles, "fonts")
	if err != nil {
		panic("assets: no folder fonts: " + err.Error())
	}
	return files
}
