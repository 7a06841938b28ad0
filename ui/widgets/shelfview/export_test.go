package shelfview

// Paint draws the lines in sight that are not drawn yet, as the window would at
// that scale.
func (v *View) Paint(scale float32) {
	for _, s := range v.strips {
		size := s.surface.Size()
		s.paint(int(size.Width*scale+.5), int(size.Height*scale+.5))
	}
}
