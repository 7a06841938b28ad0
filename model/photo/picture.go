package photo

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // read by imaging
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/disintegration/imaging"
	"github.com/gen2brain/heic"

	"coilward/model"
	"coilward/model/disk"
)

// Kind is the form of a photo's file, and the ending that it is kept with.
type Kind string

// The forms that are read.
const (
	JPEG Kind = "jpg"
	PNG  Kind = "png"
	HEIC Kind = "heic"
)

func refuse(name, reason string, gaps map[string]model.Gap) *model.Refusal {
	return &model.Refusal{Field: "photo", Value: name, Reason: reason, Gaps: gaps, Answer: model.Mend}
}

func tooLarge(name string) *model.Refusal {
	return refuse(name, "photo.bytes", map[string]model.Gap{"Most": model.CountGap(MaxBytes >> 20)})
}

// inspect looks at the file's size, its first bytes, its ending and its
// header, before anything is decoded.
func inspect(name string, raw []byte) (Kind, image.Point, *model.Refusal) {
	if len(raw) > MaxBytes {
		return "", image.Point{}, tooLarge(name)
	}
	kind := sniff(raw)
	if isPDF(raw) {
		return "", image.Point{}, refuse(name, "photo.report", nil)
	}
	if kind == "" {
		return "", image.Point{}, refuse(name, "photo.not-a-photo", nil)
	}
	if !named(name, kind) {
		return "", image.Point{}, refuse(name, "photo.ending", map[string]model.Gap{"Kind": model.TextGap(strings.ToUpper(string(kind)))})
	}
	size, err := header(kind, raw)
	if err != nil || size.X <= 0 || size.Y <= 0 {
		return "", image.Point{}, refuse(name, "photo.damaged", nil)
	}
	most := MaxPixels
	if kind == HEIC {
		most = MaxHEICPixels
	}
	if size.X > most/size.Y {
		return "", image.Point{}, refuse(name, "photo.pixels", map[string]model.Gap{
			"Width": model.CountGap(size.X), "Height": model.CountGap(size.Y), "Most": model.CountGap(most / 1_000_000)})
	}
	if max(size.X, size.Y) > MaxSide {
		return "", image.Point{}, refuse(name, "photo.side", map[string]model.Gap{
			"Width": model.CountGap(size.X), "Height": model.CountGap(size.Y), "Most": model.CountGap(MaxSide)})
	}
	return kind, size, nil
}

func sniff(raw []byte) Kind {
	switch {
	case bytes.HasPrefix(raw, []byte("\xff\xd8\xff")):
		return JPEG
	case bytes.HasPrefix(raw, []byte("\x89PNG\r\n\x1a\n")):
		return PNG
	case len(raw) >= 12 && string(raw[4:8]) == "ftyp" && slices.Contains([]string{"heic", "heix", "hevc", "heim", "heis", "mif1", "msf1"}, string(raw[8:12])):
		return HEIC
	}
	return ""
}

// named reports whether the ending of a file's name fits what it holds; no
// ending fits all.
func named(name string, kind Kind) bool {
	endings := map[Kind][]string{JPEG: {"jpg", "jpeg", "jpe", "jfif"}, PNG: {"png"}, HEIC: {"heic", "heif", "hif"}}
	ending := strings.ToLower(strings.TrimPrefix(filepath.Ext(name), "."))
	return ending == "" || slices.Contains(endings[kind], ending)
}

func header(kind Kind, raw []byte) (image.Point, error) {
	var c image.Config
	var err error
	if kind == HEIC {
		c, err = heic.DecodeConfig(bytes.NewReader(raw))
	} else {
		c, _, err = image.DecodeConfig(bytes.NewReader(raw))
	}
	return image.Pt(c.Width, c.Height), err
}

// decode reads the picture as it lies in the file. HEIC carries its turn in the
// picture's own data, which its reader follows.
func decode(kind Kind, raw []byte) (image.Image, error) {
	if kind != HEIC {
		return imaging.Decode(bytes.NewReader(raw))
	}
	p, err := heic.Decode(bytes.NewReader(raw))
	if err == nil && heic.Dynamic() != nil { // it used the reader that it carries with it
		mendCorner(p)
	}
	return p, err
}

// mendCorner puts right the first pixels of a HEIC. Its reader frees the memory of the
// picture before it hands it out, and the list of free memory is then written over the
// first bytes: 24 at the most, the links of one entry. They get what stands in the
// next row, which they can hardly be told from.
func mendCorner(p image.Image) {
	const damaged = 24
	var plane []uint8
	stride := 0
	switch p := p.(type) {
	case *image.YCbCr:
		plane, stride = p.Y, p.YStride
	case *image.Gray:
		plane, stride = p.Pix, p.Stride
	case *image.NRGBA:
		plane, stride = p.Pix, p.Stride
	case *image.RGBA:
		plane, stride = p.Pix, p.Stride
	}
	if stride == 0 {
		return
	}
	whole := (damaged + stride - 1) / stride * stride // the first byte of the first row without damage
	if len(plane) >= whole+damaged {
		copy(plane[:damaged], plane[whole:])
	}
}

// turnOf is how the decoded picture has to be turned, as in EXIF.
func turnOf(kind Kind, raw []byte) int {
	if kind == HEIC {
		return 1
	}
	return ReadNote(raw).Turned
}

// upright turns a picture as EXIF has it.
func upright(p image.Image, turned int) image.Image {
	switch turned {
	case 2:
		return imaging.FlipH(p)
	case 3:
		return imaging.Rotate180(p)
	case 4:
		return imaging.FlipV(p)
	case 5:
		return imaging.Transpose(p)
	case 6:
		return imaging.Rotate270(p)
	case 7:
		return imaging.Transverse(p)
	case 8:
		return imaging.Rotate90(p)
	}
	return p
}

// manyTimes is how many times as large as what is made of it a picture is, of which the
// mean of whole pixels is made at once: where a square of theirs begins is then an eighth
// of a made pixel off at the most.
const manyTimes = 4

// fitted is the picture upright, no side longer than longest. It is made smaller
// in whole steps first, and turned only then: a large photo is never held a
// second time in its full size.
func fitted(p image.Image, turned, longest int) *image.NRGBA {
	size := p.Bounds().Size()
	side := max(size.X, size.Y)
	step := 4 * side / (5 * longest) // a quarter as large again, which the finer filter then has to work on
	if side%longest == 0 && side > longest {
		step = side / longest // nothing is left to it
	}
	planes, ok := p.(*image.YCbCr)
	switch {
	case ok && side >= manyTimes*longest:
		p = reduced(planes, image.Pt(max(1, (size.X*longest+side/2)/side), max(1, (size.Y*longest+side/2)/side)))
	case ok && step > 1:
		p = reduced(planes, image.Pt(max(1, size.X/step), max(1, size.Y/step)))
	case step > 1:
		p = imaging.Resize(p, size.X/step, size.Y/step, imaging.Box)
	}
	return imaging.Fit(upright(p, turned), longest, longest, imaging.CatmullRom)
}

// cut is where a side of so many pixels is cut into parts, each of the same number of
// whole pixels or of one more: parts+1 places, the last of which is its end.
func cut(side, parts int) []int {
	places := make([]int, parts+1)
	for i := range places {
		places[i] = i * side / parts
	}
	return places
}

// reduced is the picture in a size that is smaller on both sides: of each pixel the mean
// of those in its place. Of the planes of colour, which are coarser in most photos,
// every second row and column is enough.
func reduced(p *image.YCbCr, size image.Point) *image.NRGBA {
	out := image.NewNRGBA(image.Rectangle{Max: size})
	across, down := cut(p.Rect.Dx(), size.X), cut(p.Rect.Dy(), size.Y)
	var columns []int              // where the colours of a row lie
	first := make([]int, size.X+1) // of each pixel among the columns
	for x := range size.X {
		for i := across[x]; i < across[x+1]; i += 2 {
			columns = append(columns, p.COffset(p.Rect.Min.X+i, p.Rect.Min.Y)-p.COffset(p.Rect.Min.X, p.Rect.Min.Y))
		}
		first[x+1] = len(columns)
	}
	var bands sync.WaitGroup
	const band = 128 // rows that are worked on together
	for top := 0; top < size.Y; top += band {
		bands.Go(func() {
			sums := make([]sum, size.X)
			for y := top; y < min(top+band, size.Y); y++ {
				clear(sums)
				for i := down[y]; i < down[y+1]; i++ {
					at := p.Rect.Min.Y + i
					lights(sums, p.Y[p.YOffset(p.Rect.Min.X, at):][:p.Rect.Dx()], across)
					if (i-down[y])%2 == 0 {
						row := p.COffset(p.Rect.Min.X, at)
						colours(sums, p.Cb[row:], p.Cr[row:], columns, first)
					}
				}
				rows := down[y+1] - down[y]
				for x, s := range sums {
					light, colour := (across[x+1]-across[x])*rows, (first[x+1]-first[x])*((rows+1)/2)
					r, g, b := color.YCbCrToRGB(uint8(int(s.light)/light), uint8(int(s.blue)/colour), uint8(int(s.red)/colour))
					pixel := out.Pix[out.PixOffset(x, y):][:4:4]
					pixel[0], pixel[1], pixel[2], pixel[3] = r, g, b, 255
				}
			}
		})
	}
	bands.Wait()
	return out
}

// sum is what the pixels in the place of one come to.
type sum struct{ light, blue, red uint32 }

// lights adds a row of light.
func lights(sums []sum, row []uint8, across []int) {
	for x := range sums {
		light := uint32(0)
		for _, l := range row[across[x]:across[x+1]] {
			light += uint32(l)
		}
		sums[x].light += light
	}
}

// colours adds a row of colour, at the columns that belong to each.
func colours(sums []sum, blue, red []uint8, columns, first []int) {
	for x := range sums {
		s := &sums[x]
		for _, at := range columns[first[x]:first[x+1]] {
			s.blue += uint32(blue[at])
			s.red += uint32(red[at])
		}
	}
}

// quality of the JPEG pictures that are made, of 100.
const quality = 85

// JPEG is the photo upright, no side longer than longest pixels, as a JPEG
// without any data but the picture. It is made once and kept. A photo whose bytes
// are no longer those that were kept is ErrChanged, and no picture of it is made.
func (f *Folder) JPEG(id model.PhotoID, longest int) ([]byte, error) {
	if _, _, err := f.Original(id); err != nil {
		return nil, err
	}
	made := f.derived(id, longest)
	if picture, ok := sealed(id, made); ok {
		return picture, nil
	}
	raw, _, err := f.read(id)
	if err != nil {
		return nil, err
	}
	picture, err := small(id, raw, longest)
	if err != nil {
		return nil, err
	}
	f.keepMade(id, longest, picture)
	return picture, nil
}

// keepMade keeps a made picture with its seal. One that cannot be kept, as in a
// folder that must not be written to, or that a failing disk has lost, is made
// again the next time: nothing waits for the disk here.
func (f *Folder) keepMade(id model.PhotoID, longest int, picture []byte) {
	seal := sealOf(id, picture)
	_ = disk.WritePassing(f.derived(id, longest), append(slices.Clip(picture), seal[:]...))
}

// make makes the pictures of both sizes from a decoded photo and keeps them; it
// hands back that of a page.
func (f *Folder) make(id model.PhotoID, decoded image.Image, turned int) (*image.NRGBA, error) {
	page := fitted(decoded, turned, Page)
	for longest, picture := range map[int]*image.NRGBA{Page: page, Thumbnail: imaging.Fit(page, Thumbnail, Thumbnail, imaging.Box)} {
		raw, err := coded(id, onWhite(picture))
		if err != nil {
			return nil, err
		}
		f.keepMade(id, longest, raw)
	}
	return page, nil
}

// small is the photo made smaller, from its bytes as they were kept.
func small(id model.PhotoID, raw []byte, longest int) ([]byte, error) {
	kind, _, refusal := inspect("", raw)
	if refusal != nil {
		return nil, fmt.Errorf("read photo %s: %w", id, refusal)
	}
	decoded, err := decode(kind, raw)
	if err != nil {
		return nil, fmt.Errorf("read photo %s: %w", id, err)
	}
	return coded(id, onWhite(fitted(decoded, turnOf(kind, raw), longest)))
}

// coded is a picture as a JPEG with nothing but the picture in it.
func coded(id model.PhotoID, picture image.Image) ([]byte, error) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("write a picture of photo %s: %w", id, err)
	}
	return b.Bytes(), nil
}

// sealOf ends the file of a made picture. It binds the picture to its photo, so
// that a damaged picture, or that of another photo, is made again.
func sealOf(id model.PhotoID, picture []byte) [sha256.Size]byte {
	return sha256.Sum256(append([]byte(id), picture...))
}

// sealed reads a made picture, if it is whole and that of the photo.
func sealed(id model.PhotoID, path string) (picture []byte, ok bool) {
	raw, err := os.ReadFile(path)
	if err != nil || len(raw) <= sha256.Size {
		return nil, false
	}
	end := len(raw) - sha256.Size
	picture = raw[:end:end]
	return picture, sealOf(id, picture) == [sha256.Size]byte(raw[end:])
}

// onWhite is the picture on white paper. Where nothing shines through, both kinds
// of pixels are the same bytes, and the other kind is coded four times as fast.
func onWhite(picture *image.NRGBA) image.Image {
	if !picture.Opaque() {
		white := imaging.New(picture.Bounds().Dx(), picture.Bounds().Dy(), color.White)
		picture = imaging.Overlay(white, picture, image.Point{}, 1)
	}
	return &image.RGBA{Pix: picture.Pix, Stride: picture.Stride, Rect: picture.Rect}
}

// Picture is what JPEG gives, decoded.
func (f *Folder) Picture(id model.PhotoID, longest int) (image.Image, error) {
	raw, err := f.JPEG(id, longest)
	if err != nil {
		return nil, err
	}
	picture, err := jpeg.Decode(bytes.NewReader(raw))
	if err != nil {
		return nil, fmt.Errorf("read the picture of photo %s: %w", id, err)
	}
	return picture, nil
}
