package assets

import _ "embed"

//go:embed icons/coilward.png
var icon []byte

// Icon is the program's icon: a PNG of 512 pixels a side.
func Icon() []byte { return icon }
