package calc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"
)

// A Fault is one thing in a plan that is wrong, with what would do.
type Fault struct {
	Field   string `json:"field"` // as in the JSON: borders[0].cut
	Message string `json:"message"`
}

// Faults are all of a plan's faults, in the order of the plan.
type Faults []Fault

func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, x := range f {
		lines[i] = x.Field + ": " + x.Message
	}
	return strings.Join(lines, "\n")
}

// What a plan may hold. Nothing sewn by hand comes near these.
const (
	MaxBorders = 12
	maxTitle   = 80
	maxName    = 40
	maxFaults  = 40
	maxAcross  = 100
)

var (
	maxSide  = Of(1000, 1, Inch)
	maxSeam  = Of(2, 1, Inch)
	maxWidth = Of(200, 1, Inch)
)

// ParsePlan reads a plan in JSON and checks it. A plan that can't be made gives
// Faults; text that is not JSON at all gives a Fault of the field "plan".
func ParsePlan(data []byte) (Plan, error) {
	r := &reader{}
	p := r.plan(data)
	if len(r.faults) > 0 {
		return Plan{}, r.faults
	}
	return p, nil
}

// A reader walks the plan's JSON and collects every fault, not only the first.
type reader struct {
	faults Faults
	unit   Unit
}

func (r *reader) fault(field, format string, args ...any) {
	if len(r.faults) < maxFaults {
		r.faults = append(r.faults, Fault{field, fmt.Sprintf(format, args...)})
	}
}

func (r *reader) plan(data []byte) Plan {
	r.unit = Inch
	o := r.object("plan", data, "title", "unit", "seam", "center", "borders", "spare", "coping", "limits")
	if o == nil {
		return Plan{}
	}
	p := Plan{Title: r.text("title", o["title"], maxTitle)}
	if p.Title == "" {
		p.Title = "Mitered border"
	}
	if u := r.oneOf("unit", o["unit"], string(Inch), string(Centimeter)); u != "" {
		r.unit = Unit(u)
	}
	p.Unit = r.unit
	p.Seam = r.length("seam", o["seam"], r.usual(Of(1, 4, Inch), Of(75, 100, Centimeter)), true, maxSeam)
	p.Pieced = r.center(o["center"], p.Seam)
	p.Borders = r.borders(o["borders"], p.Seam)
	p.Spare = r.length("spare", o["spare"], r.usual(Of(4, 1, Inch), Of(10, 1, Centimeter)), false, maxWidth)
	p.Limits = r.limits(o["limits"])
	r.coping(o["coping"], &p)
	return p
}

// usual picks what stands in for a field left out, by the plan's unit.
func (r *reader) usual(in, cm Length) Length {
	if r.unit == Centimeter {
		return cm
	}
	return in
}

func (r *reader) center(data json.RawMessage, seam Length) Size {
	if absent(data) {
		r.fault("center", "is missing; give its width and length, raw edge to raw edge")
		return Size{}
	}
	o := r.object("center", data, "width", "length")
	if o == nil {
		return Size{}
	}
	side := func(name string) Length {
		field := "center." + name
		if absent(o[name]) {
			r.fault(field, "is missing; measure the center from raw edge to raw edge")
			return Length{}
		}
		before := len(r.faults)
		l := r.length(field, o[name], Length{}, true, maxSide)
		if least := seam.Times(2); len(r.faults) == before && !least.Less(l) {
			r.fault(field, "is %s; it must be more than two seam allowances, %s", r.show(l), r.show(least))
		}
		return l
	}
	return Size{Width: side("width"), Length: side("length")}
}

func (r *reader) borders(data json.RawMessage, seam Length) []Border {
	if absent(data) {
		r.fault("borders", "is missing; give 1 to %d borders, innermost first", MaxBorders)
		return nil
	}
	var list []json.RawMessage
	if err := json.Unmarshal(data, &list); err != nil {
		r.fault("borders", "must be a list of 1 to %d borders, innermost first", MaxBorders)
		return nil
	}
	if n := len(list); n < 1 || n > MaxBorders {
		r.fault("borders", "has %d; give 1 to %d borders, innermost first", n, MaxBorders)
		return nil
	}
	borders := make([]Border, len(list))
	for i, one := range list {
		borders[i] = r.border(fmt.Sprintf("borders[%d]", i), one, i, seam)
	}
	r.oneFabricOneWay(borders)
	return borders
}

func (r *reader) border(field string, data json.RawMessage, i int, seam Length) Border {
	o := r.object(field, data, "name", "cut", "cutTopBottom", "stripe", "motif", "fabric", "lines", "start", "lengths", "photo")
	if o == nil {
		return Border{}
	}
	b := Border{Name: r.text(field+".name", o["name"], maxName)}
	if b.Name == "" {
		b.Name = fmt.Sprintf("border %d", i+1)
	}
	cut := func(name string, otherwise Length) Length {
		f := field + "." + name
		before := len(r.faults)
		l := r.length(f, o[name], otherwise, true, maxWidth)
		if least := seam.Times(2); !absent(o[name]) && len(r.faults) == before && !least.Less(l) {
			r.fault(f, "is %s; a cut width must be more than its two seam allowances, %s, or nothing of it shows",
				r.show(l), r.show(least))
		}
		return l
	}
	if absent(o["cut"]) {
		r.fault(field+".cut", "is missing; give the cut width, with its two seam allowances")
	}
	b.Cut = cut("cut", Length{})
	b.CutTopBottom = cut("cutTopBottom", b.Cut)
	b.Stripe = r.length(field+".stripe", o["stripe"], Length{}, true, maxWidth)
	b.Lines = r.lines(field+".lines", o["lines"], &b.Stripe)
	b.Start = r.start(field+".start", o["start"], b.Stripe, !absent(o["stripe"]) || !absent(o["lines"]))
	b.Motif = r.length(field+".motif", o["motif"], Length{}, true, maxWidth)
	b.Fabric = r.fabric(field+".fabric", o["fabric"], b)
	b.Lengths = r.oneOf(field+".lengths", o["lengths"], LeastLengths)
	b.Photo = r.photo(field+".photo", o["photo"])
	return b
}

// UsualWidth is the usable width of a fabric that the plan leaves out.
func UsualWidth(u Unit) Length {
	if u == Centimeter {
		return Of(102, 1, Centimeter)
	}
	return Of(40, 1, Inch)
}

// UsualEven is what squaring both ends takes of a fabric, where the plan leaves it out (cp).
func UsualEven(u Unit) Length {
	if u == Centimeter {
		return Of(5, 1, Centimeter)
	}
	return Of(2, 1, Inch)
}

func (r *reader) fabric(field string, data json.RawMessage, b Border) Fabric {
	c := Fabric{
		UsableWidth: UsualWidth(r.unit),
		Even:        UsualEven(r.unit),
		Join:        "diagonal",
		Shrink:      "0",
	}
	if b.Stripe.Sign() > 0 || b.Motif.Sign() > 0 {
		c.Join = "none"
	}
	if absent(data) {
		return c
	}
	o := r.object(field, data, "name", "usableWidth", "across", "first", "way", "heads", "runs", "join", "even", "shrink")
	c.Name = r.text(field+".name", o["name"], maxName)
	c.UsableWidth = r.length(field+".usableWidth", o["usableWidth"], c.UsableWidth, true, maxSide)
	r.printedAcross(field, o, b, &c)
	c.Runs = r.oneOf(field+".runs", o["runs"], "lengthwise", "crosswise")
	r.oneWay(field, o, b, &c)
	if j := r.oneOf(field+".join", o["join"], "none", "straight", "diagonal"); j != "" {
		c.Join = j
	}
	c.Even = r.length(field+".even", o["even"], c.Even, false, maxSide)
	c.Shrink = r.percent(field+".shrink", o["shrink"])
	return c
}

// printedAcross reads where a stripe lies on its fabric.
func (r *reader) printedAcross(field string, o map[string]json.RawMessage, b Border, c *Fabric) {
	if !absent(o["across"]) {
		c.Across = r.whole(field+".across", o["across"], 1, maxAcross)
	}
	if !absent(o["first"]) {
		first := r.length(field+".first", o["first"], Length{}, false, maxSide)
		c.First = &first
	}
	if c.Across == 0 && c.First == nil {
		return
	}
	if b.Stripe.Sign() == 0 {
		name := ".across"
		if c.Across == 0 {
			name = ".first"
		}
		r.fault(field+name, "is for a stripe, and this border has none; give its stripe, or leave this out")
		return
	}
	if b.Cut.Sign() == 0 {
		return
	}
	wide, words := b.Cut, "one strip"
	if b.CutTopBottom.Sign() > 0 && wide.Less(b.CutTopBottom) {
		wide = b.CutTopBottom
	}
	name, mend := ".first", "measure it again"
	if c.Across > 0 {
		name, mend = ".across", "count only those in which a whole strip lies"
		words = fmt.Sprintf("%d repeats with a whole strip in the last", c.Across)
		wide = wide.Add(b.Stripe.Times(int64(c.Across - 1)))
	}
	if c.First != nil {
		wide = wide.Add(*c.First)
	}
	if c.UsableWidth.Less(wide) {
		shown := func(l Length) string { return Figure{l, r.unit, LeastUp}.Shown() }
		r.fault(field+name, "%s would need %s across the fabric, and it has %s; %s, or give its usable width",
			words, shown(wide), shown(c.UsableWidth), mend)
	}
}

// object reads a JSON object whose keys are all among known, none twice; nil
// when it is not one.
func (r *reader) object(field string, data json.RawMessage, known ...string) map[string]json.RawMessage {
	fields := strings.Join(known, ", ")
	if err := json.Unmarshal(data, new(json.RawMessage)); err != nil {
		r.fault(field, "can't be read as JSON%s; look there for a missing comma, quote or bracket", brokenAt(data, err))
		return nil
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	if t, _ := dec.Token(); t != json.Delim('{') {
		r.fault(field, "must be an object in braces, with the fields %s", fields)
		return nil
	}
	prefix := field + "."
	if field == "plan" {
		prefix = ""
	}
	o := map[string]json.RawMessage{}
	for dec.More() {
		key, _ := dec.Token() // the text is known to be JSON: every key is a string
		name := key.(string)
		if now := fieldName(name); contains(known, now) {
			name = now
		}
		var value json.RawMessage
		if err := dec.Decode(&value); err != nil {
			r.fault(prefix+nameable(name), "can't be read; write it anew")
			return nil
		}
		_, twice := o[name]
		switch {
		case !contains(known, name):
			r.fault(prefix+nameable(name), "is not a field that a plan has here; use %s", fields)
		case twice:
			r.fault(prefix+name, "is given twice; keep the one that is meant")
		}
		o[name] = value
	}
	return o
}

// otherNames are, by another name of a plan's field, the name that it has here. Names that
// a field had once stay in this list for ever: histories hold plans that were written then.
var otherNames = map[string]string{"cloth": "fabric"}

// fieldName is the name under which a plan's field is known here.
func fieldName(written string) string {
	if now, ok := otherNames[written]; ok {
		return now
	}
	return written
}

// brokenAt is where a text stops being JSON: " at line 3".
func brokenAt(data []byte, err error) string {
	at := int64(len(data))
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		at = min(at, syntax.Offset)
	}
	return fmt.Sprintf(" at line %d", 1+bytes.Count(data[:at], []byte("\n")))
}

// nameable is an unknown field's name, fit to stand at the start of a line.
func nameable(name string) string {
	if q := strconv.Quote(clip(name)); name == "" || q != `"`+name+`"` {
		return q
	}
	return name
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func absent(data json.RawMessage) bool { return len(data) == 0 || string(data) == "null" }

// written is a JSON string, or a JSON number as it stands.
func written(data json.RawMessage) (string, bool) {
	var s string
	if json.Unmarshal(data, &s) == nil {
		return s, true
	}
	var n json.Number
	if json.Unmarshal(data, &n) == nil {
		return n.String(), true
	}
	return "", false
}

func (r *reader) length(field string, data json.RawMessage, otherwise Length, positive bool, limit Length) Length {
	if absent(data) {
		return otherwise
	}
	s, ok := written(data)
	if !ok {
		r.fault(field, "must be a length in quotes; %s", howWritten)
		return Length{}
	}
	l, err := ParseLength(s, r.unit)
	switch {
	case err != nil:
		r.fault(field, "%s", err)
		return Length{}
	case positive && l.Sign() == 0:
		r.fault(field, "is 0; it must be more than 0")
		return Length{}
	case limit.Less(l):
		r.fault(field, "is %s; the most that is reckoned is %s", r.show(l), r.show(limit))
		return Length{}
	}
	return l
}

// show is a length for a message. One between the lines of the ruler is not
// rounded: "is 1/2 in; it must be more than 1/2 in" would help no one.
func (r *reader) show(l Length) string {
	if !l.Round(r.unit, Nearest).Equal(l) {
		return l.Value(r.unit) + " " + string(r.unit)
	}
	return Figure{l, r.unit, Nearest}.Shown()
}

func (r *reader) text(field string, data json.RawMessage, limit int) string {
	if absent(data) {
		return ""
	}
	var s string
	if json.Unmarshal(data, &s) != nil {
		r.fault(field, "must be text in quotes")
		return ""
	}
	s = strings.Join(strings.Fields(s), " ")
	if n := utf8.RuneCountInString(s); n > limit {
		r.fault(field, "has %d characters; at most %d fit on the screen", n, limit)
		return ""
	}
	for _, c := range s {
		if unicode.IsControl(c) || c == utf8.RuneError {
			r.fault(field, "has a character that can't be shown; write it in plain letters")
			return ""
		}
	}
	return s
}

// IsPhotoID tells the id of a photo, and that of a swatch of it: 16 letters more.
func IsPhotoID(id string) bool { return photoID.MatchString(id) }

var photoID = regexp.MustCompile(`^[0-9a-f]{32}(-[0-9a-f]{16})?$`)

func (r *reader) photo(field string, data json.RawMessage) string {
	if absent(data) {
		return ""
	}
	var id string
	if json.Unmarshal(data, &id) != nil || !IsPhotoID(id) {
		r.fault(field, "must be the id of a photo that is kept here; send the photo first, or leave it out")
		return ""
	}
	return id
}

func (r *reader) oneOf(field string, data json.RawMessage, allowed ...string) string {
	if absent(data) {
		return ""
	}
	var s string
	if json.Unmarshal(data, &s) == nil && contains(allowed, s) {
		return s
	}
	r.fault(field, "must be one of %s", strings.Join(allowed, ", "))
	return ""
}

// whole reads a count.
func (r *reader) whole(field string, data json.RawMessage, least, most int) int {
	s, ok := written(data)
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if !ok || err != nil || n < least || n > most {
		r.fault(field, "must be a whole number from %d to %d, such as 4", least, most)
		return 0
	}
	return n
}

func (r *reader) percent(field string, data json.RawMessage) string {
	if absent(data) {
		return "0"
	}
	s, ok := written(data)
	s = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "%"))
	if !ok || len(s) > 8 || strings.ContainsAny(s, "eE") {
		r.fault(field, "must be a percentage from 0 to 50, such as 3")
		return "0"
	}
	d, err := decimal.NewFromString(strings.Replace(s, ",", ".", 1))
	if err != nil || d.IsNegative() || d.GreaterThan(decimal.NewFromInt(50)) {
		r.fault(field, "must be a percentage from 0 to 50, such as 3")
		return "0"
	}
	return d.String()
}
