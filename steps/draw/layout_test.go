package draw_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// layouts are ways of cutting, each with whether it is lengthwise.
func layouts(t *testing.T) map[string]struct {
	q          draw.Quilt
	way        *calc.Way
	lengthwise bool
} {
	t.Helper()
	all := map[string]struct {
		q          draw.Quilt
		way        *calc.Way
		lengthwise bool
	}{}
	add := func(name string, q draw.Quilt) {
		for i, c := range q.Sheet.Fabric {
			for _, way := range c.All() {
				if way.Fits {
					l := all[name]
					l.q, l.way, l.lengthwise = q, way.Way, way.Name == "lengthwise"
					all[fmt.Sprintf("%s, border %d, %s", name, i+1, way.Name)] = l
				}
			}
		}
	}
	for name, q := range tried(t) {
		add(name, q)
	}
	for name, plan := range map[string]string{
		"joined":        `{"center":{"width":"36 1/2","length":"70 1/2"},"borders":[{"name":"a dark line","cut":"2 1/2","fabric":{"runs":"crosswise"}},{"cut":"4 1/2","fabric":{"runs":"crosswise","join":"straight"}}]}`,
		"many parts":    `{"center":{"width":"30","length":"200"},"borders":[{"cut":"3 1/2","fabric":{"runs":"crosswise"}}]}`,
		"one way, up":   `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"4 1/2","fabric":{"way":"one-way","heads":"up"}}]}`,
		"up, a motif":   `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"4 1/2","motif":"5","fabric":{"join":"straight","way":"one-way","heads":"up"}}]}`,
		"one way, out":  `{"center":{"width":"24","length":"28"},"borders":[{"cut":"3 1/2","fabric":{"usableWidth":"44","way":"one-way","heads":"outwards"}}]}`,
		"one way, in":   `{"center":{"width":"24","length":"28"},"borders":[{"cut":"3 1/2","stripe":"2","fabric":{"usableWidth":"44","way":"one-way","heads":"inwards"}}]}`,
		"in cm, motifs": `{"unit":"cm","center":{"width":"60","length":"80"},"borders":[{"cut":"12","motif":"7,5"}]}`,
	} {
		add(name, quiltOf(t, plan))
	}
	return all
}

func TestALayoutShowsEveryPiece(t *testing.T) {
	for name, l := range layouts(t) {
		for what, svg := range map[string]string{"Layout": l.q.Layout(l.way, l.lengthwise),
			"LayoutPage": l.q.LayoutPage(l.way, l.lengthwise, false).SVG, "LayoutPage, of several": l.q.LayoutPage(l.way, l.lengthwise, true).SVG} {
			at := name + ": " + what
			label, marks := read(t, svg)
			if !strings.Contains(label, l.way.Length.Shown()+" of fabric") {
				t.Errorf("%s: label is %q, want it to say %s of fabric", at, label, l.way.Length.Shown())
			}
			high := number(t, strings.Fields(svg[strings.Index(svg, "viewBox=")+9:])[3][:3])
			// A page of Letter, 255 mm between its rims, has a head of 20 mm and the fabric's own of
			// 17 mm; 0.3 mm is a unit (derived).
			if most := (255.0 - 20 - 17) / 0.3; high > most {
				t.Errorf("%s: is %.0f high, want %.0f at the most", at, high, most)
			}
			count := map[string]int{}
			named := map[string]int{}
			for _, m := range marks {
				count[m.class]++
				for _, p := range m.places {
					if p[0] < -1 || p[0] > 601 || p[1] < -1 || p[1] > high+1 {
						t.Errorf("%s: %s %q %q reaches (%.0f, %.0f), outside of 600 × %.0f", at, m.element, m.class, m.text, p[0], p[1], high)
						break
					}
				}
				if m.class == "tl" {
					for _, edge := range []string{"left", "right", "top", "bottom"} {
						if strings.Contains(m.text, edge) {
							named[edge]++
						}
					}
				}
			}
			pieces, joins, striped := map[string]int{}, 0, 0
			for _, piece := range l.way.Layout {
				pieces[piece.Edge]++
				if b := l.q.Plan.Borders[piece.Border-1]; len(b.Lines) > 0 && (b.Start.Sign() == 0 || b.Stripe.Sub(b.Start).Less(b.Cut)) {
					striped++
				}
				if piece.Part > 1 {
					joins += 2 // the ends of two parts
				}
			}
			if joins > 0 {
				joins++ // the legend's
			}
			for edge, want := range pieces {
				if named[edge] != want {
					t.Errorf("%s: names %d pieces of the %s strip, want %d", at, named[edge], edge, want)
				}
			}
			if want := len(l.way.Layout) + 1; count["inneredge"] != want {
				t.Errorf("%s: marks %d inner edges with the legend's, want %d", at, count["inneredge"], want)
			}
			if count["joinline"] != joins {
				t.Errorf("%s: has %d ends of joins, want %d", at, count["joinline"], joins)
			}
			if striped > 0 {
				striped = 2*striped + 1 // the legend's
			}
			if count["flag"] != striped {
				t.Errorf("%s: has %d flags, want two on each piece with a first line of its own, %d with the legend's", at, count["flag"], striped)
			}
			if strings.Contains(svg, " begins<") != (striped > 0) || strings.Contains(svg, ">join<") != (joins > 0) {
				t.Errorf("%s: the legend has what the drawing has not, or lacks it", at)
			}
			if got := count["tl"]; got < len(l.way.Layout) {
				t.Errorf("%s: %d labels for %d pieces", at, got, len(l.way.Layout))
			}
			checkWords(t, at, marks)
		}
	}
}

// The numbers at the head of a layout are the distances of its columns from the
// left edge, each over its column.
func TestColumnsStandWhereTheyAreSaidTo(t *testing.T) {
	q := quiltOf(t, plans["one striped border"])
	way := q.Sheet.Fabric[0].Lengthwise
	_, marks := read(t, q.LayoutPage(way, true, false).SVG)
	fabric := only(t, marks, "path", "waste").places
	k := (fabric[1][0] - fabric[0][0]) / q.Plan.Borders[0].Fabric.UsableWidth.Float(calc.Inch)
	for _, piece := range way.Layout {
		words := strings.TrimSuffix(piece.X.Shown(), " in")
		found := piece.X.Length.Sign() == 0
		for _, m := range marks {
			want := fabric[0][0] + piece.X.Length.Float(calc.Inch)*k
			if m.class == "tf" && m.text == words && math.Abs((m.places[0][0]+m.places[1][0])/2-want) < 9 {
				found = true
			}
		}
		if !found {
			t.Errorf("the %s strip lies %s in from the edge; the layout has no such number over it", piece.Edge, words)
		}
	}
}

// planMiddle is the middle of the top in the drawing of the plan.
func planMiddle(t *testing.T, q draw.Quilt) [2]float64 {
	_, marks := read(t, q.Draw(draw.Scene{Kind: draw.PlanScene}))
	top := only(t, marks, "path", "raw").places
	return [2]float64{(top[0][0] + top[2][0]) / 2, (top[0][1] + top[2][1]) / 2}
}

// A pair that is centered on the gap has its print slid by half a repeat, and the
// other pair has not.
func TestAPrintLiesAsItIsCentered(t *testing.T) {
	// Finished 30 by 46 with a print of 8: (46 - 30) / 2 is one repeat; 30 by 38: half
	// a repeat, so one pair sits on the gap (derived).
	for _, c := range []struct {
		length string
		gap    bool
	}{{"46 1/2", false}, {"38 1/2", true}} {
		q := quiltOf(t, `{"center":{"width":"30 1/2","length":"`+c.length+`"},"borders":[{"cut":"5 1/2","motif":"8"}]}`)
		along := map[string]string{} // the middles that motifs are counted from: the center's, or half a repeat beside it
		for _, m := range regexp.MustCompile(`fill="url\(#stripe-1\)" transform="matrix\(([^)]*)\)`).FindAllStringSubmatch(q.Draw(draw.Scene{Kind: draw.PlanScene}), -1) {
			along[m[1]] = m[1]
		}
		var middles int // of strips, on a motif of the print
		for m := range along {
			n := numbers(t, m)
			if n[0] != 0 && math.Abs(n[4]-planMiddle(t, q)[0]) < 0.2 || n[0] == 0 && math.Abs(n[5]-planMiddle(t, q)[1]) < 0.2 {
				middles++
			}
		}
		if want := map[bool]int{false: 4, true: 2}[c.gap]; middles != want {
			t.Errorf("length %s: %d of 4 strips have a motif in their middle, want %d (centering %v)", c.length, middles, want, q.Sheet.Match[0].Centering)
		}
	}
}

// Where strips are too narrow for their names these stand over them, and no column goes without
// its number.
func TestNarrowColumnsHaveNamesAndNumbers(t *testing.T) {
	q := quiltOf(t, `{"center":{"width":"38 1/2","length":"48 1/2"},"borders":[
		{"name":"ticking","cut":"1 5/8","fabric":{"usableWidth":"42","runs":"lengthwise"},
		"lines":[{"width":"3/4","color":"#1f3a5f"},{"width":"3/8","color":"#f1e7d0"}]},{"cut":"5 1/2"}]}`)
	way := q.Sheet.Fabric[0].Lengthwise
	_, marks := read(t, q.LayoutPage(way, true, true).SVG)
	fabric := only(t, marks, "path", "waste").places
	numbers, names := map[string]bool{}, 0
	for _, m := range marks {
		if m.class == "tf" && m.places[1][1] < fabric[0][1] {
			numbers[m.text] = true
		}
		if m.class == "tl" && m.places[1][1] < fabric[0][1] {
			names++
			if high := m.places[1][0] - m.places[0][0]; high < 0.8*24*0.43-0.01 {
				t.Errorf("the name %q is %.1f high, too small to read", m.text, high)
			}
		}
	}
	if names != len(way.Layout) {
		t.Errorf("%d names stand over the columns, want %d", names, len(way.Layout))
	}
	for _, piece := range way.Layout {
		if words := strings.TrimSuffix(piece.X.Shown(), " in"); piece.X.Length.Sign() > 0 && !numbers[words] {
			t.Errorf("the column at %s in has no number over it", words)
		}
	}
}
