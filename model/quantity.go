package model

// Mass is a mass in whole milligrams, with what was typed.
type Mass struct {
	Milligrams int64  `json:"mg"`
	Typed      string `json:"typed,omitempty"`
}

// Grams is a mass of g grams.
func Grams(g int64) Mass { return Mass{Milligrams: g * 1000} }

// IsZero reports whether no mass is given.
func (m Mass) IsZero() bool { return m.Milligrams == 0 }

// Length is a length in whole tenths of a millimetre, with what was typed.
type Length struct {
	Tenths int64  `json:"tenth_mm"`
	Typed  string `json:"typed,omitempty"`
}

// IsZero reports whether no length is given.
func (l Length) IsZero() bool { return l.Tenths == 0 }

// Temperature is a temperature in whole hundredths of a degree Celsius, with
// what was typed.
type Temperature struct {
	Hundredths int64  `json:"hundredth_c"`
	Typed      string `json:"typed,omitempty"`
}
