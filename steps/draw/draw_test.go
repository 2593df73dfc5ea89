package draw_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

var plans = map[string]string{
	"one striped border":    `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"}]}`,
	"unequal, a motif":      `{"center":{"width":"48 1/2","length":"36 1/2"},"borders":[{"name":"<ticking & \"co\">","cut":"4 1/2","cutTopBottom":"6 1/2","motif":"6"}]}`,
	"four borders":          `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"1 1/2"},{"cut":"3 1/2","stripe":"1 1/8","motif":"3"},{"cut":"2"},{"cut":"6"}]}`,
	"twelve borders":        `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[` + strings.Repeat(`{"cut":"2"},`, 11) + `{"cut":"3"}]}`,
	"in centimeters":        `{"unit":"cm","center":{"width":"90","length":"120,5"},"borders":[{"cut":"12","motif":"10","fabric":{"runs":"crosswise"}}]}`,
	"joined aslant":         `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"5 1/2","fabric":{"runs":"crosswise","join":"diagonal"}}]}`,
	"joined end on end":     `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"5 1/2","motif":"6","fabric":{"runs":"crosswise","join":"straight"}}]}`,
	"a long thin center":    `{"center":{"width":"10","length":"400"},"borders":[{"cut":"5 1/2","stripe":"1"}]}`,
	"a band beyond measure": `{"seam":"2","center":{"width":"10","length":"40"},"borders":[{"cut":"200","stripe":"3"}]}`,
	"a small center":        `{"seam":"2","center":{"width":"5","length":"5"},"borders":[{"cut":"4 1/8"}]}`,
	"a very flat miter":     `{"center":{"width":"30","length":"30"},"borders":[{"cut":"9","cutTopBottom":"1"}]}`,
	"a very steep miter":    `{"center":{"width":"30","length":"30"},"borders":[{"cut":"1","cutTopBottom":"9"},{"cut":"1","cutTopBottom":"9"}]}`,
	"no spare":              `{"spare":"0","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2"}]}`,
	"much to spare":         `{"spare":"200","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2"}]}`,
}

func quiltOf(t *testing.T, plan string) draw.Quilt {
	t.Helper()
	p, err := calc.ParsePlan([]byte(plan))
	if err != nil {
		t.Fatalf("ParsePlan(%s): got %v, want a plan", plan, err)
	}
	return draw.Quilt{Plan: p, Sheet: calc.NewSheet(p)}
}

// made are the quilts, once they are.
var made map[string]draw.Quilt

// quilts are the plans, and what they become with lines of one's own and with
// coping strips.
func quilts(t *testing.T) map[string]draw.Quilt {
	t.Helper()
	if made != nil {
		return made
	}
	all := map[string]draw.Quilt{}
	for name, plan := range plans {
		all[name] = quiltOf(t, plan)
	}
	with := func(name, plan string, change func(*calc.Plan)) {
		q := quiltOf(t, plan)
		change(&q.Plan)
		q.Sheet = calc.NewSheet(q.Plan)
		all[name] = q
	}
	with("lines of its own", `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"1 1/2"},{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"}]}`,
		func(p *calc.Plan) { p.Borders[1].Lines, p.Borders[1].Start = ticking(), calc.Of(1, 4, calc.Inch) })
	with("lines on unequal bands", `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","cutTopBottom":"7 1/2","stripe":"1 1/8"}]}`,
		func(p *calc.Plan) { p.Borders[0].Lines = ticking() })
	with("lines and a motif", `{"center":{"width":"36 1/2","length":"45 1/2"},"borders":[{"cut":"8 1/2","motif":"6","stripe":"1 1/8"}]}`,
		func(p *calc.Plan) { p.Borders[0].Lines = ticking() })
	with("coping on the sides", `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","motif":"8"}]}`, func(p *calc.Plan) { cope(p, calc.Sides, 2) })
	with("narrow coping on top and bottom", `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"2"},{"cut":"5 1/2","motif":"7"}]}`, func(p *calc.Plan) { cope(p, calc.TopBottom, 1) })
	with("coping on a long thin center", `{"center":{"width":"10","length":"400"},"borders":[{"cut":"5 1/2","cutTopBottom":"6","stripe":"1"}]}`, func(p *calc.Plan) { cope(p, calc.Sides, 1) })
	with("wide coping on a small center", `{"seam":"2","center":{"width":"5","length":"5"},"borders":[{"cut":"4 1/8"}]}`, func(p *calc.Plan) { cope(p, calc.TopBottom, 100) })
	for _, name := range []string{"lines on unequal bands", "joined aslant", "joined end on end", "coping on the sides", "in centimeters"} {
		q := all[name]
		q.LeftHand = true
		all[name+", for a left hand"] = q
	}
	made = all
	return all
}

// tried are the quilts that a test goes through, with the race detector every fourth: it finds
// nothing where there are no goroutines, and takes ten times as long.
func tried(t *testing.T) map[string]draw.Quilt {
	t.Helper()
	all := quilts(t)
	if !raceOn {
		return all
	}
	some := map[string]draw.Quilt{}
	for i, name := range slices.Sorted(maps.Keys(all)) {
		if i%4 == 0 {
			some[name] = all[name]
		}
	}
	return some
}

// ticking is a stripe of 1 1/8 in.
func ticking() []calc.Line {
	line := func(name string, eighths int64, color string) calc.Line {
		return calc.Line{Name: name, Width: calc.Of(eighths, 8, calc.Inch), Color: color}
	}
	return []calc.Line{line("navy", 3, "#22375c"), line("cream", 1, "#fbf5e6"), line("red", 1, "#a8322a"), line("cream", 3, "#fbf5e6"), line("ink", 1, "#23262c")}
}

// cope sews coping strips that finish so many inches wide to two edges.
func cope(p *calc.Plan, e calc.Edges, inches int64) {
	finished := calc.Of(inches, 1, calc.Inch)
	p.Coping = &calc.Coping{Edges: e, Cut: finished.Add(p.Seam.Times(2))}
	if e == calc.Sides {
		p.Center.Width = p.Center.Width.Add(finished.Times(2))
	} else {
		p.Center.Length = p.Center.Length.Add(finished.Times(2))
	}
}

// scenes are all that this quilt's work has.
func scenes(q draw.Quilt) []draw.Scene {
	var all []draw.Scene
	add := func(s draw.Scene, acts string) {
		for _, act := range strings.Fields(acts) {
			s.Act = act
			all = append(all, s)
		}
	}
	all = append(all, draw.Scene{Kind: draw.PlanScene})
	add(draw.Scene{Kind: draw.CenterScene}, "press width-top width-middle width-bottom length-left length-middle length-right diagonal-1 diagonal-2 trim settle")
	add(draw.Scene{Kind: draw.TestScene}, "sew")
	add(draw.Scene{Kind: draw.TopScene}, "widths lengths diagonals")
	for _, e := range []calc.Edges{calc.Sides, calc.TopBottom} {
		add(draw.Scene{Kind: draw.PairScene, Edges: e}, "choose")
	}
	turn := "fold turn line"
	if !q.Sheet.Corner.Equal() {
		turn = "turn line-sides line-topBottom match"
	}
	for corner := 1; corner <= 4; corner++ {
		add(draw.Scene{Kind: draw.CenterScene, Corner: corner}, "squared dot")
		add(draw.Scene{Kind: draw.CornerScene, Corner: corner}, turn+" pin sew look trim open behind front")
	}
	for _, edge := range []string{"left", "right", "top", "bottom"} {
		add(draw.Scene{Kind: draw.CenterScene, Edge: edge}, "middle")
		add(draw.Scene{Kind: draw.StripScene, Edge: edge}, "middle ends")
		add(draw.Scene{Kind: draw.EdgeScene, Edge: edge}, "pin sew check press")
		add(draw.Scene{Kind: draw.EdgeScene, Edge: edge, Second: true}, "pin sew check press")
	}
	if c := q.Plan.Coping; c != nil {
		add(draw.Scene{Kind: draw.CopingScene}, "measure cut size")
		edges := []string{"left", "right"}
		if c.Edges == calc.TopBottom {
			edges = []string{"top", "bottom"}
		}
		for _, edge := range edges {
			add(draw.Scene{Kind: draw.CopingScene, Edge: edge}, "pin sew press")
		}
	}
	for i, b := range q.Plan.Borders {
		if b.Motif.Sign() > 0 {
			all = append(all, draw.Scene{Kind: draw.CornersScene, Border: i + 1})
		}
		for _, edge := range []string{"left", "right", "top", "bottom"} {
			if parts(q, i+1, edge) > 0 {
				add(draw.Scene{Kind: draw.StripScene, Edge: edge, Border: i + 1}, "parts parts-cut join joined join-press")
				if b.Fabric.Join == "diagonal" {
					add(draw.Scene{Kind: draw.StripScene, Edge: edge, Border: i + 1}, "join-trim")
				}
			}
		}
		add(draw.Scene{Kind: draw.FabricScene, Border: i + 1}, "ready")
		if b.Stripe.Sign() > 0 {
			add(draw.Scene{Kind: draw.FabricScene, Border: i + 1}, "line")
		}
		for _, edge := range []string{"left", "right", "top", "bottom"} {
			acts := "measure cut inner end"
			if parts(q, i+1, edge) > 0 { // cut to its length, it is cut across its end
				acts = "measure cut inner"
			}
			add(draw.Scene{Kind: draw.StripScene, Edge: edge, Border: i + 1}, acts)
			strip := q.Sheet.Strips[2*i]
			off := calc.Figure{Length: strip.CutWidth.Length.Half(), Unit: q.Plan.Unit}
			add(draw.Scene{Kind: draw.StripScene, Edge: edge, Border: i + 1, Piece: &draw.Piece{Wide: strip.CutWidth, Long: strip.CutLength, Off: off}}, "end")
			add(draw.Scene{Kind: draw.StripScene, Edge: edge, Border: i + 1, Piece: &draw.Piece{Wide: strip.CutWidth, Long: strip.CutWidth}}, "cut")
			if i+1 < len(q.Plan.Borders) {
				add(draw.Scene{Kind: draw.BandScene, Edge: edge, Border: i + 1}, "sew press")
			}
		}
	}
	return all
}

// parts counts the parts that a strip is laid out in; 0 where it is in one.
func parts(q draw.Quilt, border int, edge string) int {
	var n int
	if way := q.Sheet.Fabric[border-1].Picked(); way != nil {
		for _, piece := range way.Layout {
			if piece.Edge == edge && piece.Part > 0 {
				n++
			}
		}
	}
	return n
}

// A drawn is a scene as it is drawn.
type drawn struct {
	draw.Scene
	svg, label string
	marks      []mark
}

var everyDrawing = map[string][]drawn{}

// drawings are all scenes of one of the quilts, drawn and read once.
func drawings(t *testing.T, name string) []drawn {
	t.Helper()
	if everyDrawing[name] == nil {
		q := quilts(t)[name]
		for _, s := range scenes(q) {
			d := drawn{Scene: s, svg: q.Draw(s)}
			d.label, d.marks = read(t, d.svg)
			everyDrawing[name] = append(everyDrawing[name], d)
		}
	}
	return everyDrawing[name]
}

func TestEveryDrawingKeepsItsFrame(t *testing.T) {
	const most, mostOfMany, average = 5800, 8200, 2600 // bytes: a page carries about a hundred
	for name, q := range tried(t) {
		labels, seen := map[string]draw.Scene{}, map[string]draw.Scene{}
		total, count := 0, 0
		for _, d := range drawings(t, name) {
			s, svg, label, marks := d.Scene, d.svg, d.label, d.marks
			at := fmt.Sprintf("%s: Draw(%+v)", name, s)
			if len(label) < 20 {
				t.Errorf("%s: label is %q, want the drawing in words", at, label)
			}
			key := strings.ReplaceAll(fmt.Sprintf("%s, second %v", label, s.Second), fmt.Sprint(s.Border), "")
			if other, ok := labels[key]; ok && other.Border == s.Border {
				t.Errorf("%s: the same words as %+v: %q", at, other, label)
			}
			labels[key] = s
			if other, ok := seen[svg]; ok {
				t.Errorf("%s: the same drawing as %+v", at, other)
			}
			seen[svg] = s
			limit := most
			if len(q.Plan.Borders) > 4 || s.Kind == draw.CornersScene {
				limit = mostOfMany
			}
			if s.Kind == draw.CornerScene && (s.Act == "fold" || s.Act == "match") {
				limit += 1500 // three pictures in one
			}
			if len(svg) > limit {
				t.Errorf("%s: %d bytes, want at most %d", at, len(svg), limit)
			}
			total, count = total+len(svg), count+1
			if strings.Contains(svg, "style=") {
				t.Errorf("%s: has a style of its own, which the pages' policy forbids", at)
			}
			checkPlaces(t, at, marks)
			checkWords(t, at, marks)
			if len(marks) < 5 {
				t.Errorf("%s: only %d marks: nothing is drawn", at, len(marks))
			}
		}
		if total/count > average {
			t.Errorf("%s: %d drawings of %d bytes on average, want at most %d", name, count, total/count, average)
		}
	}
}

// checkPlaces: nothing lies outside the drawing, but for what a round window clips.
func checkPlaces(t *testing.T, at string, marks []mark) {
	t.Helper()
	for _, m := range marks {
		if m.inLoupe || m.class == "torn" { // a torn edge wipes, and may wipe past the frame
			continue
		}
		for _, p := range m.places {
			if p[0] < -1 || p[0] > 601 || p[1] < -1 || p[1] > 501 {
				t.Errorf("%s: %s %q reaches (%.0f, %.0f), outside of 600 × 500", at, m.element, m.class, p[0], p[1])
				return
			}
		}
	}
}

// checkWords: no line of text lies on another.
func checkWords(t *testing.T, at string, marks []mark) {
	t.Helper()
	var texts []mark
	for _, m := range marks {
		if m.element != "text" {
			continue
		}
		for _, o := range texts {
			if m.places[0][0] < o.places[1][0] && o.places[0][0] < m.places[1][0] &&
				m.places[0][1] < o.places[1][1] && o.places[0][1] < m.places[1][1] {
				t.Errorf("%s: %q lies on %q", at, m.text, o.text)
			}
		}
		texts = append(texts, m)
	}
}

func TestDefsNameEveryPatternOnce(t *testing.T) {
	for name, q := range tried(t) {
		defs := q.Defs()
		read(t, strings.ReplaceAll(strings.ReplaceAll(defs, `transform="translate(`, `data-t="(`), `patternTransform`, `data-p`))
		for _, d := range drawings(t, name) {
			s, svg := d.Scene, d.svg
			for _, part := range strings.Split(svg, `url(#`)[1:] {
				if id := part[:strings.Index(part, ")")]; strings.Count(defs, `id="`+id+`"`) != 1 {
					t.Errorf("%s: Draw(%+v) fills with %q; the Defs have it %d times, want once", name, s, id, strings.Count(defs, `id="`+id+`"`))
				}
			}
			for _, part := range strings.Split(svg, `href="#`)[1:] {
				if id := part[:strings.Index(part, `"`)]; strings.Count(defs, `id="`+id+`"`) != 1 {
					t.Errorf("%s: Draw(%+v) uses %q; the Defs have it %d times, want once", name, s, id, strings.Count(defs, `id="`+id+`"`))
				}
			}
		}
	}
}

func only(t *testing.T, marks []mark, element, class string) mark {
	t.Helper()
	for _, m := range marks {
		if m.element == element && m.class == class && !m.inLoupe {
			return m
		}
	}
	t.Fatalf("no %s of class %q in the drawing", element, class)
	return mark{}
}

func apart(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// The drawn line runs from the dot to the raw outer edge: its length is to the
// strip's outer edge as the sheet says, and its tip lies on a raw edge.
func TestTheDrawnLineIsTrue(t *testing.T) {
	for name, q := range tried(t) {
		acts := map[string]calc.Edges{"line": calc.Sides}
		if !q.Sheet.Corner.Equal() {
			acts = map[string]calc.Edges{"line-sides": calc.Sides, "line-topBottom": calc.TopBottom}
		}
		for act, own := range acts {
			for corner := 1; corner <= 4; corner++ {
				_, marks := read(t, q.Draw(draw.Scene{Kind: draw.CornerScene, Act: act, Corner: corner}))
				dot, tip := only(t, marks, "path", "chalkline").places[0], only(t, marks, "path", "tip chalkline").places[0]
				f, line := q.Sheet.Bands.On(own).Finished, q.Sheet.Corner.DrawnLineSides
				out := math.Abs(tip[0] - dot[0])
				if own == calc.TopBottom {
					line = q.Sheet.Corner.DrawnLineTopBottom
					out = math.Abs(tip[1] - dot[1])
				}
				got := out / apart(dot, tip)
				want := f.Length.Add(q.Plan.Seam).Float(calc.Inch) / line.Length.Float(calc.Inch)
				if math.Abs(got-want) > 0.01 {
					t.Errorf("%s, corner %d, %s: outer edge over line is %.3f, want %.3f", name, corner, act, got, want)
				}
				if !onRaw(marks, tip) {
					t.Errorf("%s, corner %d, %s: the line ends at %.0f, on no raw edge", name, corner, act, tip)
				}
			}
		}
	}
}

func onRaw(marks []mark, p [2]float64) bool {
	for _, m := range marks {
		for i := 1; m.class == "raw" && i < len(m.places); i++ {
			a, b := m.places[i-1], m.places[i]
			if apart(a, p)+apart(p, b)-apart(a, b) < 0.5 {
				return true
			}
		}
	}
	return false
}

func TestCornersLieWhereTheyLieOnTheTable(t *testing.T) {
	q := quiltOf(t, plans["one striped border"])
	for corner, want := range map[int][2]float64{1: {-1, -1}, 2: {1, -1}, 3: {1, 1}, 4: {-1, 1}} {
		_, marks := read(t, q.Draw(draw.Scene{Kind: draw.CornerScene, Act: "line", Corner: corner}))
		dot := only(t, marks, "use", "dot").places[0]
		end := only(t, marks, "path", "chalkline").places[1]
		if (end[0]-dot[0])*want[0] <= 0 || (end[1]-dot[1])*want[1] <= 0 {
			t.Errorf("corner %d: from the dot %.0f the line runs to %.0f, want toward %v", corner, dot, end, want)
		}
	}
}

// rectangle is the size of the first mark of a class.
func rectangle(m mark) (w, h float64) {
	lo, hi := m.places[0], m.places[0]
	for _, p := range m.places {
		for i := range p {
			lo[i], hi[i] = min(lo[i], p[i]), max(hi[i], p[i])
		}
	}
	return hi[0] - lo[0], hi[1] - lo[1]
}

func TestSizesAreToScale(t *testing.T) {
	for name, q := range tried(t) {
		in := func(f calc.Figure) float64 { return f.Length.Float(calc.Inch) }
		for what, c := range map[string]struct {
			scene draw.Scene
			class string
			want  float64 // width over height
		}{
			"the finished top": {draw.Scene{Kind: draw.PlanScene}, "raw", in(q.Sheet.Finished.Width) / in(q.Sheet.Finished.Length)},
			"the raw top":      {draw.Scene{Kind: draw.TopScene, Act: "widths"}, "raw", in(q.Sheet.Raw.Width) / in(q.Sheet.Raw.Length)},
			"the center":       {draw.Scene{Kind: draw.CenterScene, Act: "settle"}, "raw", in(q.Sheet.Center.Width) / in(q.Sheet.Center.Length)},
			"a top strip":      {draw.Scene{Kind: draw.StripScene, Act: "cut", Edge: "top", Border: 1}, "raw", in(q.Sheet.Strips[1].CutLength) / in(q.Sheet.Strips[1].CutWidth)},
			"a left strip":     {draw.Scene{Kind: draw.StripScene, Act: "cut", Edge: "left", Border: 1}, "raw", in(q.Sheet.Strips[0].CutLength) / in(q.Sheet.Strips[0].CutWidth)},
		} {
			_, marks := read(t, q.Draw(c.scene))
			w, h := rectangle(only(t, marks, "path", c.class))
			if c.scene.Kind == draw.StripScene && w < h { // it lies upright or level
				w, h = h, w
			}
			slack := 0.1/w + 0.1/h + 0.001 // places are rounded to a tenth
			if got := w / h; math.Abs(got/c.want-1) > slack {
				t.Errorf("%s, %s: drawn %.1f × %.1f, a ratio of %.4f, want %.4f", name, what, w, h, got, c.want)
			}
		}
	}
}
