package drawing

// Pen draws. Lengths are in the pen's own units: pixels of a picture,
// millimetres of a page. To draw a picture made in other units, wrap the pen
// with Through.
type Pen interface {
	// Fill fills the path (non-zero winding; open outlines are closed straight)
	// in the role's colour at an opacity from 0 to 1.
	Fill(path Path, role Role, opacity float64)
	// Stroke draws along the path, width wide, with round ends and joins.
	Stroke(path Path, width float64, role Role, opacity float64)
	// Clip keeps what follows inside the path, until Unclip. Clips do not nest.
	Clip(path Path)
	// Unclip ends the clip.
	Unclip()
	// Text sets one line of text.
	Text(text Text)
}

// Text is one line of text in a drawing.
type Text struct {
	String string
	// At is the middle of the line's height; along the line it is where Align says.
	At    Point
	Align Align
	// Size is the size of the type, in the pen's units.
	Size float64
	// Strong asks for the heavier face.
	Strong bool
	Role   Role
}

// Align says which part of a text stands at its point.
type Align uint8

// The alignments.
const (
	Start Align = iota
	Middle
	End
)

// Measure is the width of a text in the units of its size; pictures that place
// texts side by side are given one by whoever owns the faces.
type Measure func(text string, size float64, strong bool) float64

// Through is a pen that draws everything mapped by m with the given pen. Widths
// and sizes are multiplied by the map's factor.
func Through(pen Pen, m Matrix) Pen { return mapped{pen, m, m.Factor()} }

type mapped struct {
	pen    Pen
	matrix Matrix
	factor float64
}

func (p mapped) Fill(path Path, role Role, opacity float64) {
	p.pen.Fill(path.Transform(p.matrix), role, opacity)
}

func (p mapped) Stroke(path Path, width float64, role Role, opacity float64) {
	p.pen.Stroke(path.Transform(p.matrix), width*p.factor, role, opacity)
}

func (p mapped) Clip(path Path) { p.pen.Clip(path.Transform(p.matrix)) }
func (p mapped) Unclip()        { p.pen.Unclip() }

func (p mapped) Text(text Text) {
	text.At = p.matrix.Apply(text.At)
	text.Size *= p.factor
	p.pen.Text(text)
}

// Recorder is a pen that keeps what was drawn, for tests and for drawing again.
type Recorder struct {
	Steps []Step
}

// StepKind tells what was drawn.
type StepKind uint8

// The kinds of step.
const (
	Filled StepKind = iota
	Stroked
	Clipped
	Unclipped
	Written
)

// Step is one call of a pen.
type Step struct {
	Kind    StepKind
	Path    Path
	Width   float64
	Role    Role
	Opacity float64
	Text    Text
}

// Fill keeps the call.
func (r *Recorder) Fill(path Path, role Role, opacity float64) {
	r.Steps = append(r.Steps, Step{Kind: Filled, Path: path, Role: role, Opacity: opacity})
}

// Stroke keeps the call.
func (r *Recorder) Stroke(path Path, width float64, role Role, opacity float64) {
	r.Steps = append(r.Steps, Step{Kind: Stroked, Path: path, Width: width, Role: role, Opacity: opacity})
}

// Clip keeps the call.
func (r *Recorder) Clip(path Path) { r.Steps = append(r.Steps, Step{Kind: Clipped, Path: path}) }

// Unclip keeps the call.
func (r *Recorder) Unclip() { r.Steps = append(r.Steps, Step{Kind: Unclipped}) }

// Text keeps the call.
func (r *Recorder) Text(text Text) {
	r.Steps = append(r.Steps, Step{Kind: Written, Text: text, Role: text.Role})
}

// Replay draws everything again with another pen.
func (r *Recorder) Replay(pen Pen) {
	for _, s := range r.Steps {
		switch s.Kind {
		case Filled:
			pen.Fill(s.Path, s.Role, s.Opacity)
		case Stroked:
			pen.Stroke(s.Path, s.Width, s.Role, s.Opacity)
		case Clipped:
			pen.Clip(s.Path)
		case Unclipped:
			pen.Unclip()
		case Written:
			pen.Text(s.Text)
		}
	}
}

// Bounds is the box around everything filled and stroked, line widths included.
func (r *Recorder) Bounds() Rectangle {
	box := nothing()
	for _, s := range r.Steps {
		if s.Kind == Filled || s.Kind == Stroked {
			box = box.Union(s.Path.Bounds().Grow(s.Width / 2))
		}
	}
	if box.Min.X > box.Max.X {
		return Rectangle{}
	}
	return box
}
