package calc_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"cornerwise/calc"
)

// Every strip of a random plan laid on its fabric as a polygon: inside, none over
// another, all of them there, in the lines of the stripe and the print, and no
// less bought than they take.
func TestStripsLieOnTheFabric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, bolts := drawFabric(t)
		p, s := planOf(t, text), sheetOf(t, text)
		for i, need := range s.Fabric {
			checkWays(t, p, s, []int{i + 1}, p.Borders[i].Fabric.UsableWidth, need.Ways)
		}
		if len(s.Together) != bolts {
			t.Fatalf("%s\ntogether has %d fabrics; want %d", text, len(s.Together), bolts)
		}
		for _, c := range s.Together {
			usable := p.Borders[c.Borders[0]-1].Fabric.UsableWidth
			for _, b := range c.Borders {
				if u := p.Borders[b-1].Fabric.UsableWidth; u.Less(usable) {
					usable = u
				}
			}
			checkWays(t, p, s, c.Borders, usable, c.Ways)
		}
	})
}

// drawFabric makes a plan; the second result is how many fabrics are shared.
func drawFabric(t *rapid.T) (string, int) {
	num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
	n := num("borders", 1, 4)
	stripe, motif := "", ""
	if rapid.Bool().Draw(t, "striped") {
		stripe = fmt.Sprintf(`,"stripe":"%d/8"`, num("stripe", 2, 40))
	}
	if rapid.Bool().Draw(t, "printed") {
		motif = fmt.Sprintf(`,"motif":"%d/8"`, num("motif", 8, 80))
	}
	shared := 0
	borders := ""
	for i := range n {
		cut := num("cut", 5, 60)
		name := rapid.SampledFrom([]string{"", "dusk"}).Draw(t, "name")
		if name != "" {
			shared++
		}
		if i > 0 {
			borders += ","
		}
		borders += fmt.Sprintf(`{"cut":"%d/8","cutTopBottom":"%d/8"%s%s,"fabric":{"name":%q,"usableWidth":"%d","join":%q,"shrink":"%d"}}`,
			cut, max(5, cut+num("wider", 0, 1)*8), stripe, motif, name, num("usable", 8, 120),
			rapid.SampledFrom([]string{"none", "straight", "diagonal"}).Draw(t, "join"), num("shrink", 0, 8))
	}
	return fmt.Sprintf(`{"center":{"width":"%d/8","length":"%d/8"},"borders":[%s],"spare":"%d"}`,
		num("width", 40, 800), num("length", 40, 800), borders, num("spare", 0, 6)), min(1, shared/2)
}

func checkWays(t *rapid.T, p calc.Plan, s calc.Sheet, borders []int, usable calc.Length, ways calc.Ways) {
	t.Helper()
	for _, along := range []bool{true, false} {
		way := ways.Lengthwise
		if !along {
			way = ways.Crosswise
		}
		if way == nil || !way.Fits {
			continue
		}
		if least := way.Length.Length; way.Buy.Length.Less(least) {
			t.Fatalf("buy %s for %s of fabric", way.Buy.Value(), way.Length.Value())
		}
		checkInside(t, usable, way)
		checkWhole(t, p, s, borders, way, along)
		checkLines(t, p, borders, way, along)
	}
}

func checkInside(t *rapid.T, usable calc.Length, way *calc.Way) {
	t.Helper()
	var shapes []geom.Geometry
	fabric := box(t, 0, 0, usable.Float(calc.Inch), way.Length.Length.Float(calc.Inch))
	reach := 0.0
	for _, x := range way.Layout {
		f := func(f calc.Figure) float64 { return f.Length.Float(calc.Inch) }
		// A hair less all round: edges that touch do not lap.
		const hair = 1e-9
		shape := box(t, f(x.X)+hair, f(x.Y)+hair, f(x.X)+f(x.Width)-hair, f(x.Y)+f(x.Length)-hair)
		if in, err := geom.Contains(fabric, shape); err != nil || !in {
			t.Fatalf("%s lies outside the fabric, %s x %s (%v)", told(x), usable.Value(calc.Inch), way.Length.Value(), err)
		}
		for i, other := range shapes {
			if geom.Intersects(shape, other) {
				t.Fatalf("%s lies over %s", told(x), told(way.Layout[i]))
			}
		}
		shapes = append(shapes, shape)
		reach = math.Max(reach, f(x.Y)+f(x.Length))
	}
	if !near(reach, way.Length.Length.Float(calc.Inch), 1e-9) {
		t.Fatalf("the layout reaches %g; its length is %s", reach, way.Length.Value())
	}
}

func told(x calc.Piece) string {
	return fmt.Sprintf("%s of border %d at %s, %s, %s x %s", x.Edge, x.Border, x.X.Value(), x.Y.Value(), x.Width.Value(), x.Length.Value())
}

func box(t rapid.TB, x0, y0, x1, y1 float64) geom.Geometry {
	return polygon(t, xy{x0, y0}, xy{x1, y0}, xy{x1, y1}, xy{x0, y1})
}

// checkWhole holds each strip's pieces, less what their joins lose, against its
// cut length, and counts the strips.
func checkWhole(t *rapid.T, p calc.Plan, s calc.Sheet, borders []int, way *calc.Way, along bool) {
	t.Helper()
	join := "none"
	for _, b := range borders {
		switch j := p.Borders[b-1].Fabric.Join; {
		case b == borders[0]:
			join = j
		case j == "none" || j == "diagonal" && join != "none":
			join = j
		}
	}
	type strip struct {
		border int
		edge   string
	}
	length, parts := map[strip]calc.Length{}, map[strip]int64{}
	for _, x := range way.Layout {
		k := strip{x.Border, x.Edge}
		own := x.Width.Length
		if along || way.Along(x) {
			own = x.Length.Length
		}
		length[k] = length[k].Add(own)
		parts[k]++
	}
	if len(length) != 4*len(borders) {
		t.Fatalf("%d strips are laid; want %d", len(length), 4*len(borders))
	}
	for _, b := range borders {
		for _, edge := range []string{"left", "right", "top", "bottom"} {
			e := calc.Sides
			if edge == "top" || edge == "bottom" {
				e = calc.TopBottom
			}
			want := stripOf(t, s, b, e)
			loss := p.Seam.Times(2)
			if join == "diagonal" {
				loss = want.CutWidth.Length
			}
			k := strip{b, edge}
			if got := length[k].Sub(loss.Times(parts[k] - 1)); !got.Equal(want.CutLength.Length) {
				t.Fatalf("border %d, %s: %d pieces make %s; want %s", b, edge, parts[k], got.Value(calc.Inch), want.CutLength.Value())
			}
			if parts[k] > 1 && join == "none" {
				t.Fatalf("border %d, %s is joined", b, edge)
			}
		}
	}
}

// checkLines looks where the stripe and the print fall, in eighths and sixteenths.
func checkLines(t *rapid.T, p calc.Plan, borders []int, way *calc.Way, along bool) {
	t.Helper()
	first := p.Borders[borders[0]-1]
	// on tells whether l is a whole number of repeats.
	on := func(l, repeat calc.Length) bool {
		n := math.Round(l.Float(calc.Inch) / repeat.Float(calc.Inch))
		return l.Equal(repeat.Times(int64(n)))
	}
	var firstMiddle calc.Length // of any strip, and whether a gap lies there
	var firstGap, found bool
	begins := map[string]calc.Length{} // of each lane
	for _, x := range way.Layout {
		lane, start, length := x.X.Length, x.Y.Length, x.Length.Length
		if !along {
			lane, start, length = x.Y.Length, x.X.Length, x.Width.Length
		}
		if first.Stripe.Sign() > 0 && (!on(lane, first.Stripe) || lane.Less(first.Stripe)) {
			t.Fatalf("%s does not begin on the stripe's line, every %s", told(x), first.Stripe.Value(calc.Inch))
		}
		if first.Motif.Sign() == 0 {
			continue
		}
		if at, ok := begins[lane.Value(calc.Inch)]; !ok || start.Less(at) {
			begins[lane.Value(calc.Inch)] = start
		}
		if x.Part > 0 || way.Centering == nil || len(borders) > 1 {
			continue
		}
		e := calc.Sides
		if x.Edge == "top" || x.Edge == "bottom" {
			e = calc.TopBottom
		}
		gap, middle := way.Centering.On(e) == calc.OnGap, start.Add(length.Half())
		if !found {
			firstMiddle, firstGap, found = middle, gap, true
		}
		apart := middle.Sub(firstMiddle)
		if gap != firstGap {
			apart = apart.Add(first.Motif.Half())
		}
		if !on(apart, first.Motif) {
			t.Fatalf("%s: its middle is %s from that of the first, print every %s", told(x), middle.Sub(firstMiddle).Value(calc.Inch), first.Motif.Value(calc.Inch))
		}
	}
	for lane, at := range begins {
		if at.Sign() < 0 || first.Motif.Less(at) {
			t.Fatalf("the lane at %s begins %s in; the print may begin up to %s in", lane, at.Value(calc.Inch), first.Motif.Value(calc.Inch))
		}
	}
}
