package uitest

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// Photograph is the path of a JPEG whose camera says when it was taken, by its own
// clock.
func Photograph(t testing.TB, taken time.Time) string {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 64, 48))
	picture.SetGray(0, 0, color.Gray{Y: uint8(taken.Day())})
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, nil); err != nil {
		t.Fatal(err)
	}
	order := binary.LittleEndian
	list := func(b []byte, tag, kind uint16, count, value uint32) []byte {
		b = order.AppendUint16(order.AppendUint16(order.AppendUint16(b, 1), tag), kind)
		return append(order.AppendUint32(order.AppendUint32(b, count), value), 0, 0, 0, 0)
	}
	note := list([]byte("II*\x00\x08\x00\x00\x00"), 0x8769, 4, 1, 26)
	note = append(list(note, 0x9003, 2, 20, 44), taken.Format("2006:01:02 15:04:05")+"\x00"...)
	head := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xe1}, uint16(len(note)+8))
	raw := append(append(append(head, "Exif\x00\x00"...), note...), b.Bytes()[2:]...)
	path := filepath.Join(t.TempDir(), "taken.jpg")
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
