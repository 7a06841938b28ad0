package photo

import (
	"image"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"coilward/model/label"
)

// cardOf reads the card in a picture; the zero label where there is none of ours.
// Of a picture that the reader of codes cannot cope with, it is taken that there
// is none: what a camera gives must not end the program.
func cardOf(picture image.Image) (found label.Label) {
	defer func() {
		if recover() != nil {
			found = label.Label{}
		}
	}()
	bits, err := gozxing.NewBinaryBitmapFromImage(picture)
	if err != nil {
		return label.Label{}
	}
	said, err := qrcode.NewQRCodeReader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return label.Label{}
	}
	if l, ours := label.Parse(said.GetText()); ours {
		return l
	}
	return label.Label{}
}
