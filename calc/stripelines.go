package calc

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
)

// MaxLines is how many lines one repeat of a stripe may have.
const MaxLines = 12

var aColor = regexp.MustCompile(`^#[0-9a-f]{6}$`)

// lines reads the lines of one repeat, which they must fill. Where the plan leaves
// the stripe out, it is their sum.
func (r *reader) lines(field string, data json.RawMessage, stripe *Length) []Line {
	if absent(data) {
		return nil
	}
	var list []json.RawMessage
	if err := json.Unmarshal(data, &list); err != nil || len(list) < 1 || len(list) > MaxLines {
		r.fault(field, "must be a list of 1 to %d lines, in their order from the inner edge outward", MaxLines)
		return nil
	}
	before := len(r.faults)
	lines := make([]Line, len(list))
	var sum Length
	for i, one := range list {
		lines[i] = r.line(fmt.Sprintf("%s[%d]", field, i), one)
		sum = sum.Add(lines[i].Width)
	}
	if len(r.faults) > before {
		return nil
	}
	switch {
	case sum.Less(*stripe):
		r.fault(field, "add up to %s, and the stripe repeats every %s; %s is missing. The lines fill one repeat exactly",
			r.show(sum), r.show(*stripe), r.show(stripe.Sub(sum)))
	case stripe.Sign() > 0 && stripe.Less(sum):
		r.fault(field, "add up to %s, and the stripe repeats every %s; that is %s too much. The lines fill one repeat exactly",
			r.show(sum), r.show(*stripe), r.show(sum.Sub(*stripe)))
	case maxWidth.Less(sum):
		r.fault(field, "add up to %s; the most that is reckoned is %s", r.show(sum), r.show(maxWidth))
	default:
		*stripe = sum
		return lines
	}
	return nil
}

func (r *reader) line(field string, data json.RawMessage) Line {
	o := r.object(field, data, "name", "width", "color")
	if o == nil {
		return Line{}
	}
	l := Line{Name: r.text(field+".name", o["name"], maxName)}
	if absent(o["width"]) {
		r.fault(field+".width", "is missing; give the width of the line")
	}
	l.Width = r.length(field+".width", o["width"], Length{}, true, maxWidth)
	var color string
	if json.Unmarshal(o["color"], &color) == nil {
		l.Color = strings.ToLower(color)
	}
	if !aColor.MatchString(l.Color) {
		r.fault(field+".color", "must be a color written as # and six digits, such as #1f3a5f")
	}
	return l
}

// start reads where in the repeat the strip's inner raw edge lies.
func (r *reader) start(field string, data json.RawMessage, stripe Length, striped bool) Length {
	if absent(data) {
		return Length{}
	}
	before := len(r.faults)
	l := r.length(field, data, Length{}, false, maxWidth)
	switch {
	case len(r.faults) > before:
	case !striped:
		r.fault(field, "needs a stripe to start in; give the repeat across the strip as stripe, or its lines")
	case stripe.Sign() > 0 && !l.Less(stripe):
		r.fault(field, "is %s; it must be less than one repeat of the stripe, %s", r.show(l), r.show(stripe))
	}
	return l
}
