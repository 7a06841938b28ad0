package check

import (
	"errors"
	"strconv"
	"strings"

	"coilward/model"
	"coilward/model/body"
	"coilward/ui/look"
	"coilward/ui/widgets"
)

// countPlace asks for a place by hand-spans from the snout, or by the count of
// belly scales.
func (w *walkPage) countPlace() {
	t := w.page.window.Text()
	length := w.page.animal.Length.SnoutVent
	spans := widgets.NewField("", widgets.FieldOptions{Label: w.say("check.spans"), Hint: w.say("check.spans.hint")})
	span := widgets.NewField("", widgets.FieldOptions{Label: w.say("check.span"), Hint: w.say("check.span.hint")})
	scale := widgets.NewField("", widgets.FieldOptions{Label: w.say("check.scale"), Hint: w.say("check.scale.hint")})
	count := widgets.NewField("", widgets.FieldOptions{Label: w.say("check.scales"), Hint: w.say("check.scales.hint")})
	note := w.say("check.count.length", map[string]any{"Length": length})
	if length.IsZero() {
		note = w.say("check.count.no-length", map[string]any{"Name": w.page.animal.Name})
		spans.Disable()
		span.Disable()
	}
	var close func()
	use := func() {
		place, field, refusal := w.counted(spans, span, scale, count, length)
		if refusal != nil {
			field.Refuse(t.Refusal(refusal))
			return
		}
		close()
		w.point(place)
	}
	first := scale.Focusable()
	if !length.IsZero() {
		first = spans.Focusable()
	}
	close = w.page.window.ShowSheet(widgets.Sheet{
		Title: w.say("check.count.title"), Width: 480, First: first, Cancel: w.say("check.cancel"),
		Content: widgets.Col(look.S16,
			widgets.Para(w.say("check.count.say"), look.Body, look.Ink),
			widgets.RowTop(look.S12, widgets.Grow(spans.Container), widgets.Grow(span.Container)),
			widgets.Para(note, look.Note, look.Soft),
			widgets.RowTop(look.S12, widgets.Grow(scale.Container), widgets.Grow(count.Container)),
		),
		Acts: []widgets.Act{{Label: w.say("check.count.use"), Key: "Enter", Do: use}},
	})
}

// counted is the place that was counted, or the field and reason why not.
func (w *walkPage) counted(spans, span, scale, count *widgets.Field, length model.Length) (body.Place, *widgets.Field, *model.Refusal) {
	angle := 0
	if w.page.session.view == body.Underside {
		angle = 180
	}
	if strings.TrimSpace(spans.Text()) != "" {
		tenths, refusal := tenthsOf(spans.Text())
		if refusal != nil {
			return body.Place{}, spans, refusal
		}
		hand, err := w.page.window.Text().ParseLength(span.Text())
		if errors.As(err, &refusal) {
			return body.Place{}, span, refusal
		}
		along, ok := body.FromSpans(tenths, hand.Tenths, length.Tenths)
		if !ok {
			return body.Place{}, spans, &model.Refusal{Field: "spans", Value: spans.Text(), Reason: "check.spans.past", Answer: model.Mend}
		}
		return body.OnTrunk(along, angle), nil, nil
	}
	nth, refusal := wholeNumber("scale", scale.Text())
	if refusal != nil {
		return body.Place{}, scale, refusal
	}
	all, refusal := wholeNumber("scales", count.Text())
	if refusal != nil {
		return body.Place{}, count, refusal
	}
	along, ok := body.FromBellyScale(nth, all)
	if !ok {
		return body.Place{}, scale, &model.Refusal{Field: "scale", Value: scale.Text(), Reason: "check.scale.past", Answer: model.Mend}
	}
	return body.OnTrunk(along, angle), nil, nil
}

// tenthsOf reads a number of hand-spans with at most one decimal.
func tenthsOf(text string) (int, *model.Refusal) {
	refuse := &model.Refusal{Field: "spans", Value: text, Reason: "check.number", Answer: model.Mend}
	before, after, _ := strings.Cut(strings.ReplaceAll(strings.TrimSpace(text), ",", "."), ".")
	if len(after) > 1 || len(before) > 3 {
		return 0, refuse
	}
	n, err := strconv.Atoi(before + (after + "0")[:1])
	if err != nil || n <= 0 {
		return 0, refuse
	}
	return n, nil
}

func wholeNumber(field, text string) (int, *model.Refusal) {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || n <= 0 || n > 1000 {
		return 0, &model.Refusal{Field: field, Value: text, Reason: "check.number", Answer: model.Mend}
	}
	return n, nil
}
