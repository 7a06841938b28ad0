package main

import (
	"fmt"
	"image"
	"image/color"
)

// colours counts the different colours of a picture, looking at every pixel.
func colours(picture image.Image) int {
	seen := map[color.RGBA]bool{}
	each(picture.Bounds(), func(x, y int) { seen[pixel(picture, x, y)] = true })
	return len(seen)
}

// changed is the share of pixels (0–1) that differ between two pictures of the
// same size by more than a step of 8 in a channel.
func changed(before, after image.Image) (float64, error) {
	if before.Bounds() != after.Bounds() {
		return 0, fmt.Errorf("compare pictures: one is %v, the other %v", before.Bounds(), after.Bounds())
	}
	differ, all := 0, 0
	each(before.Bounds(), func(x, y int) {
		all++
		if apart(pixel(before, x, y), pixel(after, x, y)) > 8 {
			differ++
		}
	})
	return float64(differ) / float64(all), nil
}

func each(area image.Rectangle, visit func(x, y int)) {
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			visit(x, y)
		}
	}
}

func pixel(picture image.Image, x, y int) color.RGBA {
	return color.RGBAModel.Convert(picture.At(x, y)).(color.RGBA)
}

// apart is the largest difference of two colours in one channel.
func apart(a, b color.RGBA) int {
	return max(distance(a.R, b.R), distance(a.G, b.G), distance(a.B, b.B))
}

func distance(a, b uint8) int { return max(int(a), int(b)) - min(int(a), int(b)) }
