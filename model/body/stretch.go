package body

// Stretch is the part of the trunk that a region covers, as shares of
// snout–vent length (0–10000); not ok for a region that lies elsewhere.
func Stretch(region RegionID) (from, to int, ok bool) {
	from = Full
	for _, c := range cells() {
		if c.region == region && c.part == Trunk {
			from, to, ok = min(from, c.from), max(to, min(c.to, Full)), true
		}
	}
	return from, to, ok
}
