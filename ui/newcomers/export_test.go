package newcomers

// FailRooms is what is shown where nothing could be worked out of the rooms.
func (p *Page) FailRooms() { p.rooms.failed() }
