package wording

// ParseUV reads a UV index as people type it: "0.9", "1,25", in hundredths. The error is
// a *model.Refusal of the field "reading-uv".
func (t *Text) ParseUV(typed string) (hundredths int, err error) {
	r, refusal := read("reading-uv", typed)
	if refusal != nil {
		return 0, refusal
	}
	if !priceForm.MatchString(r.clean) {
		return 0, r.refuse("climate.uv", nil)
	}
	n, refusal := t.number(r, r.clean, asDecimal)
	if refusal != nil {
		return 0, refusal
	}
	if n.Cmp(ratio(mostUV, 1)) > 0 {
		return 0, r.refuse("climate.uv", nil)
	}
	n.Mul(n, ratio(100, 1))
	value, _ := rounded(n, mostUV*100)
	return int(value), nil
}

// mostUV is the highest UV index that is taken.
const mostUV = 30
