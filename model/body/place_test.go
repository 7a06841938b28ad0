package body_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coilward/model"
	"coilward/model/body"
)

func TestSame(t *testing.T) {
	mouth := func(r body.RegionID) body.Place { return body.Place{Part: body.Mouth, Region: r} }
	for _, c := range []struct {
		a, b body.Place
		same bool
	}{
		{body.OnTrunk(6200, 90), body.OnTrunk(6600, 60), true},
		{body.OnTrunk(6200, 90), body.OnTrunk(6601, 90), false},
		{body.OnTrunk(6200, 90), body.OnTrunk(6200, 59), false},
		{body.OnTrunk(6200, 170), body.OnTrunk(6200, -170), true},
		{body.OnTrunk(9900, 180), body.OnTail(3000, 180), true},
		{body.OnTrunk(9500, 180), body.OnTail(9000, 180), false},
		{mouth(body.Palate), mouth(body.Palate), true},
		{mouth(body.Palate), mouth(body.Choana), false},
		{mouth(body.Palate), body.OnTrunk(100, 0), false},
	} {
		if body.Same(c.a, c.b) != c.same || body.Same(c.b, c.a) != c.same {
			t.Errorf("%+v and %+v: want same %v both ways", c.a, c.b, c.same)
		}
	}
}

func TestSameWithinItself(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := body.OnTrunk(rapid.IntRange(0, 10000).Draw(t, "along"), rapid.IntRange(-179, 180).Draw(t, "angle"))
		if !body.Same(p, p) {
			t.Fatalf("%+v is not the same as itself", p)
		}
		if p.Region == "" || p.Side() == "" {
			t.Fatalf("%+v has no region or side", p)
		}
		from, to := p.Slice()
		if p.Percent() < from-1 || p.Percent() > to+1 || to-from != 5 {
			t.Fatalf("%+v lies in %d–%d %%", p, from, to)
		}
	})
}

func TestParsePlace(t *testing.T) {
	for text, want := range map[string]body.Place{
		"62 left":            body.OnTrunk(6200, 90),
		"62 l":               body.OnTrunk(6200, 90),
		"62l":                body.OnTrunk(6200, 90),
		"left 62":            body.OnTrunk(6200, 90),
		"62 links":           body.OnTrunk(6200, 90),
		" 62,5 % Rechts ":    body.OnTrunk(6250, -90),
		"belly 40":           body.OnTrunk(4000, 180),
		"Bauch 40":           body.OnTrunk(4000, 180),
		"40 Rücken":          body.OnTrunk(4000, 0),
		"99.99":              body.OnTrunk(9999, 0),
		"100 b":              body.OnTrunk(10000, 180),
		"tail 30":            body.OnTail(3000, 0),
		"Schwanz 30% rechts": body.OnTail(3000, -90),
		"0":                  body.OnTrunk(0, 0),
	} {
		got, err := body.ParsePlace(text)
		if err != nil || got != want {
			t.Errorf("%q: %+v, %v; want %+v", text, got, err, want)
		}
	}
	for text, reason := range map[string]string{
		"": "place.number", "left": "place.number", "tail": "place.number", "101": "place.range", "62 sideways": "place.word",
		"62 left right": "place.twice", "62 63": "place.twice", "6,2,1 l": "place.word", "-5": "place.word",
	} {
		_, err := body.ParsePlace(text)
		var refusal *model.Refusal
		if !errors.As(err, &refusal) || refusal.Reason != reason || refusal.Field != "place" || refusal.Value != text {
			t.Errorf("%q: %v; want reason %s", text, err, reason)
		}
	}
}

func FuzzParsePlace(f *testing.F) {
	for _, seed := range []string{"62 left", "Bauch 40", "tail 30", "62,5%l", "1e9", "99999999999999999999 l", "\x80", "６２ left", "62\u00a0l", "…"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := body.ParsePlace(text)
		if err != nil {
			var refusal *model.Refusal
			if !errors.As(err, &refusal) || refusal.Value != text {
				t.Fatalf("%q: refused without naming it: %v", text, err)
			}
			return
		}
		if p.Along < 0 || p.Along > body.Full || p.Angle < -179 || p.Angle > 180 || p.Region == "" {
			t.Fatalf("%q became %+v", text, p)
		}
		if strings.TrimSpace(text) == "" {
			t.Fatalf("empty text became %+v", p)
		}
	})
}

func TestSpansAndScales(t *testing.T) {
	if a, ok := body.FromSpans(25, 1800, 9000); !ok || a != 5000 { // 2½ spans of 18 cm of 90 cm
		t.Errorf("spans: %d, %v", a, ok)
	}
	if _, ok := body.FromSpans(60, 1800, 9000); ok {
		t.Error("six spans of 18 cm on 90 cm are past the vent")
	}
	if a, ok := body.FromBellyScale(100, 200); !ok || a < 5200 || a > 5260 {
		t.Errorf("scale 100 of 200 lies at %d, %v", a, ok)
	}
	for _, c := range [][2]int{{0, 200}, {201, 200}, {1, 0}} {
		if _, ok := body.FromBellyScale(c[0], c[1]); ok {
			t.Errorf("scale %d of %d was taken", c[0], c[1])
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		count := rapid.IntRange(2, 400).Draw(t, "count")
		n := rapid.IntRange(1, count-1).Draw(t, "scale")
		a, _ := body.FromBellyScale(n, count)
		b, _ := body.FromBellyScale(n+1, count)
		if a >= b || a < body.HeadShare || b > body.Full {
			t.Fatalf("scale %d at %d, next at %d", n, a, b)
		}
	})
}

func TestFromSnout(t *testing.T) {
	if got := body.OnTrunk(5636, 0).FromSnout(11000); got != 6200 { // 56.36 % of 110 cm
		t.Errorf("got %d tenths of a millimetre", got)
	}
}

func TestOrgansLieWithinTheirQuarters(t *testing.T) {
	for _, o := range append(body.Organs(), body.Quarters()...) {
		if o.From < 0 || o.From >= o.To || o.To > 100 || o.Source == "" || o.ID == "" {
			t.Errorf("%+v", o)
		}
	}
}
