package knowledge

// Pose is a standard pose in which an animal is photographed.
type Pose struct {
	ID     PoseID
	Every  int // days after which a newer photo is worth having
	Source string
}

// PoseID names a pose. Values are frozen; the text is "pose." + id.
type PoseID string

// Poses are the standard poses, in the order of their table.
func (t *Tables) Poses() []Pose { return t.poses }

// Pose is the pose of that id.
func (t *Tables) Pose(id PoseID) (Pose, bool) {
	for _, p := range t.poses {
		if p.ID == id {
			return p, true
		}
	}
	return Pose{}, false
}

func (l *loading) pose(r row) {
	_, taken := l.t.Pose(PoseID(r.cells[0].text))
	l.t.poses = append(l.t.poses, Pose{ID: PoseID(l.id(r, taken)), Every: l.number(r, "every days", 1, 3650), Source: r.cell("source")})
}
