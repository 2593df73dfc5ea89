package draw_test

import (
	"fmt"
	"math"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// All pieces of a layout are cut from one print: the motifs of each lie whole repeats from
// those of any other, along the strips. The plans name unequal bands, gaps and motifs, joins,
// and borders that share a fabric.
func TestALayoutHasOnePrint(t *testing.T) {
	plans := map[string]string{
		"lengths apart":     `{"center":{"width":"48 1/2","length":"36 1/2"},"borders":[{"cut":"4 1/2","cutTopBottom":"6 1/2","motif":"6"}]}`,
		"one on the gap":    `{"center":{"width":"30 1/2","length":"38 1/2"},"borders":[{"cut":"5 1/2","motif":"8"}]}`,
		"crosswise":         `{"center":{"width":"30 1/2","length":"38 1/2"},"borders":[{"cut":"5 1/2","motif":"5","fabric":{"runs":"crosswise","usableWidth":"108","join":"none"}}]}`,
		"joined aslant":     `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"5 1/2","motif":"6","fabric":{"runs":"crosswise","join":"diagonal"}}]}`,
		"joined end on end": `{"center":{"width":"60 1/2","length":"71 1/2"},"borders":[{"cut":"5 1/2","motif":"5","fabric":{"runs":"crosswise","join":"straight"}}]}`,
		"one fabric":        `{"unit":"cm","center":{"width":"60","length":"83"},"borders":[{"cut":"5","motif":"7,5","fabric":{"name":"dusk"}},{"cut":"12","motif":"7,5","fabric":{"name":"dusk"}}]}`,
	}
	for name, plan := range plans {
		q := quiltOf(t, plan)
		ways := []calc.Ways{}
		for _, need := range q.Sheet.Fabric {
			ways = append(ways, need.Ways)
		}
		for _, need := range q.Sheet.Together {
			ways = append(ways, need.Ways)
		}
		drawn := 0
		for n, w := range ways {
			for _, lengthwise := range []bool{true, false} {
				way := w.Crosswise
				if lengthwise {
					way = w.Lengthwise
				}
				if way == nil || !way.Fits {
					continue
				}
				drawn++
				checkOnePrint(t, fmt.Sprintf("%s, layout %d, lengthwise %v", name, n, lengthwise), q, way, lengthwise)
			}
		}
		if drawn == 0 {
			t.Errorf("%s: no layout fits, want one to look at", name)
		}
	}
}

func checkOnePrint(t *testing.T, at string, q draw.Quilt, way *calc.Way, lengthwise bool) {
	t.Helper()
	svg := q.LayoutPage(way, lengthwise, false).SVG
	prints := printed(t, svg, `stripe-\d+t?`)
	if len(prints) != len(way.Layout) {
		t.Fatalf("%s: %d prints for %d pieces", at, len(prints), len(way.Layout))
	}
	first, repeat := 0.0, 0.0
	for i, f := range prints {
		along := f[4]
		if lengthwise {
			along = f[5]
		}
		if i == 0 {
			first, repeat = along, q.Plan.Borders[way.Layout[0].Border-1].Motif.Float(calc.Inch)*math.Hypot(f[0], f[1])
		}
		off := math.Mod(along-first, repeat)
		if off = math.Abs(off); math.Min(off, repeat-off) > 0.3 { // places are rounded to a tenth
			t.Errorf("%s: %+v has its motifs %.1f from those of the first piece, want whole repeats of %.1f", at, way.Layout[i], off, repeat)
		}
	}
	// A strip in one has a motif or a gap in its middle.
	k := math.Hypot(prints[0][0], prints[0][1])
	_, marks := read(t, svg)
	fabric := only(t, marks, "path", "waste").places
	for i, piece := range way.Layout {
		if piece.Part > 0 {
			continue
		}
		middle, along := fabric[0][0]+(piece.X.Length.Float(calc.Inch)+piece.Width.Length.Float(calc.Inch)/2)*k, prints[i][4]
		if lengthwise {
			middle, along = fabric[0][1]+(piece.Y.Length.Float(calc.Inch)+piece.Length.Length.Float(calc.Inch)/2)*k, prints[i][5]
		}
		want := 0.0
		if e := pairOf(piece.Edge); way.Centering.On(e) == calc.OnGap {
			want = repeat / 2
		}
		off := math.Mod(math.Abs(along-middle)+want, repeat)
		if math.Min(off, repeat-off) > 0.3 {
			t.Errorf("%s: the middle of %+v is %.1f from where it is centered, %v", at, piece, off, *way.Centering)
		}
	}
}

func pairOf(edge string) calc.Edges {
	if edge == "left" || edge == "right" {
		return calc.Sides
	}
	return calc.TopBottom
}
