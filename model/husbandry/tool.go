package husbandry

import (
	"fmt"

	"coilward/model"
)

// Tool is the body of a document of something that touches animals and goes
// from one to the next: what is on it goes with it.
type Tool struct {
	Name string   `json:"name"`
	Kind ToolKind `json:"kind"`
	// Place is the room, rack, shelf or enclosure that it is used for; zero for
	// one that is used everywhere.
	Place  model.PlaceID `json:"place,omitzero"`
	Code   string        `json:"code,omitempty"`
	Note   string        `json:"note,omitempty"`
	Closed model.Date    `json:"closed,omitzero"` // since when it is no longer used
}

// ToolKind is what a tool is. Values are frozen; the text is
// "husbandry.tool-kind." + value.
type ToolKind string

// The kinds of tool.
const (
	Hook      ToolKind = "hook"
	Tongs     ToolKind = "tongs"
	MovingTub ToolKind = "moving-tub"
	Bag       ToolKind = "bag"
	Bowl      ToolKind = "bowl"
	OtherTool ToolKind = "other"
)

// ToolKinds are the kinds in the order in which they are offered.
func ToolKinds() []ToolKind { return []ToolKind{Hook, Tongs, MovingTub, Bag, Bowl, OtherTool} }

// StoredTool is a tool with the document's id and revision.
type StoredTool struct {
	ID       model.ToolID
	Revision uint32
	Tool
}

// DecodeTool reads a tool's document.
func DecodeTool(d model.Document) (StoredTool, error) {
	s := StoredTool{ID: model.ToolID{ID: d.ID}, Revision: d.Revision}
	if d.Type != model.TypeTool {
		return s, fmt.Errorf("read tool %s: the document is of type %s", d.ID, d.Type)
	}
	return s, d.Decode(Version, &s.Tool)
}
