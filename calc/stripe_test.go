package calc_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

func TestWholeRepeatsAgreeWithPrint(t *testing.T) {
	for _, c := range []struct{ cut, stripe, step, waste, source string }{
		{"96", "27", "108", "12", "DIY Ideas (Meredith); M. G. R. Sewing; drapery texts"},
		{"90", "27", "108", "18", "the same"},
		{"114", "4.5", "117", "3", "the same"},
		{"114", "11", "121", "7", "the same"},
		{"5 1/2", "1 1/8", "5.625", "0.125", "(derived) five repeats"},
		{"4 1/2", "1 1/2", "4.5", "0", "(derived) three repeats, nothing between"},
	} {
		p := planOf(t, fmt.Sprintf(`{"center":{"width":"36","length":"36"},"borders":[{"cut":%q,"stripe":%q}]}`, c.cut, c.stripe))
		pitches, ok := calc.Pitches(p, 1)
		got := [2]string{pitches.Sides.Step.Value(), pitches.Sides.Waste.Value()}
		if want := [2]string{c.step, c.waste}; !ok || got != want {
			t.Errorf("cut %s of a stripe of %s: %t, step and waste %v; want %v (%s)", c.cut, c.stripe, ok, got, want, c.source)
		}
	}
}

func TestStripsAcrossTheFabric(t *testing.T) {
	for _, c := range []struct {
		name, border string
		sides, ends  int
	}{
		// (derived) 1 1/8 set aside; six steps of 5 5/8 and 5 1/2 make 40 3/8, five
		// of 6 3/4 and 6 1/2 make 41 3/8; one more of either is over 42.
		{"seven of 5 1/2 in 42, six of 6 1/2", `"cut":"5 1/2","cutTopBottom":"6 1/2","stripe":"1 1/8","fabric":{"usableWidth":"42"}`, 7, 6},
		{"exactly six", `"cut":"5 1/2","stripe":"1 1/8","fabric":{"usableWidth":"34 3/4"}`, 6, 6},
		{"a hair under six", `"cut":"5 1/2","stripe":"1 1/8","fabric":{"usableWidth":"34.749"}`, 5, 5},
		{"one that fits only where the line lies well", `"cut":"10","stripe":"3","fabric":{"usableWidth":"12"}`, 0, 0},
		{"one that fits wherever the line lies, with nothing to spare", `"cut":"10","stripe":"3","fabric":{"usableWidth":"13"}`, 1, 1},
	} {
		p := planOf(t, fmt.Sprintf(`{"center":{"width":"36","length":"36"},"borders":[{%s}]}`, c.border))
		pitches, _ := calc.Pitches(p, 1)
		if got, want := [2]int{pitches.Sides.Across, pitches.TopBottom.Across}, [2]int{c.sides, c.ends}; got != want {
			t.Errorf("%s: %s: across, sides and top and bottom: %v; want %v", c.name, c.border, got, want)
		}
	}
	if _, ok := calc.Pitches(planOf(t, one("36", "36", "5", "4")), 1); ok {
		t.Error("a border without a stripe has a pitch")
	}
}

// Strips laid one by one on the fabric, each on the line where the last began:
// as many as told fit, one more does not.
func TestStripsLieOnTheSameLineOfTheStripe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStripe(t)
		b := p.Borders[0]
		pitches, _ := calc.Pitches(p, 1)
		for _, e := range []calc.Edges{calc.Sides, calc.TopBottom} {
			pitch, cut := pitches.On(e), b.CutOn(e)
			if !pitch.Step.Length.Equal(cut.Add(pitch.Waste.Length)) || pitch.Waste.Length.Sign() < 0 || !pitch.Waste.Length.Less(b.Stripe) {
				t.Errorf("step %s, waste %s with a cut of %s: want their difference, under a repeat of %s",
					pitch.Step.Value(), pitch.Waste.Value(), cut.Value(p.Unit), b.Stripe.Value(p.Unit))
			}
			left, laid := b.Stripe, 0
			for ; !b.Fabric.UsableWidth.Less(left.Add(cut)); laid++ {
				for next := left.Add(cut); left.Less(next); { // to the first line past this strip
					left = left.Add(b.Stripe)
				}
			}
			if laid != pitch.Across {
				t.Errorf("%s: %d strips of %s lie across %s; told %d", e, laid, cut.Value(p.Unit), b.Fabric.UsableWidth.Value(p.Unit), pitch.Across)
			}
		}
	})
}

func TestNearestWidthsWithBothSeamsOnOneLine(t *testing.T) {
	for _, c := range []struct {
		name, border string
		want         []string
	}{
		// (derived) 5 finished lies between 4 and 5 repeats of 1 1/8: 4 1/2 and 5 5/8,
		// and two allowances. The top grows by twice the difference from 46 x 58.
		{"one width all round is changed all round", `"cut":"5 1/2","stripe":"1 1/8"`,
			[]string{"[sides topBottom] 5 x 4: 45 x 57", "[sides topBottom] 6.125 x 5: 47.25 x 59.25"}},
		{"two widths are changed each for itself, which changes one direction", `"cut":"5 1/2","cutTopBottom":"6 1/2","stripe":"1 1/8"`,
			[]string{
				"[sides] 5 x 4: 45 x 60", "[sides] 6.125 x 5: 47.25 x 60",
				"[topBottom] 6.125 x 5: 46 x 59.25", "[topBottom] 7.25 x 6: 46 x 61.5",
			}},
		{"already on the line", `"cut":"5 1/2","stripe":"1 1/4"`, nil},
		{"none under one repeat", `"cut":"5 1/2","stripe":"8"`, []string{"[sides topBottom] 8.5 x 1: 52 x 64"}},
		{"none wider than a plan allows", `"cut":"150","stripe":"120"`, []string{"[sides topBottom] 120.5 x 1: 276 x 288"}},
		{"as wide as a plan allows", `"cut":"150","stripe":"199 1/2"`, []string{"[sides topBottom] 200 x 1: 435 x 447"}},
		{"no stripe, no choice", `"cut":"5 1/2"`, nil},
	} {
		p := planOf(t, fmt.Sprintf(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{%s}]}`, c.border))
		var got []string
		for _, w := range calc.NearestWidths(p, 1) {
			got = append(got, fmt.Sprintf("%v %s x %d: %s x %s",
				w.Edges, w.Cut.Value(), w.Repeats, w.Finished.Width.Value(), w.Finished.Length.Value()))
		}
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s: NearestWidths(%s)\ngot  %q\nwant %q", c.name, c.border, got, c.want)
		}
	}
}

// Put into the plan, a nearest width leaves nothing over between the seams and
// makes the size that was told; nothing is left to choose for that pair.
func TestNearestWidthsTakenIntoThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawStripe(t)
		before := p.Borders[0]
		for _, w := range calc.NearestWidths(p, 1) {
			changed := p
			changed.Borders = []calc.Border{before}
			for _, e := range w.Edges {
				if e == calc.Sides {
					changed.Borders[0].Cut = w.Cut.Length
				} else {
					changed.Borders[0].CutTopBottom = w.Cut.Length
				}
				if off := w.Cut.Length.Sub(before.CutOn(e)); !off.Less(before.Stripe) || !before.Stripe.Times(-1).Less(off) {
					t.Errorf("%s: %s for a cut of %s is a repeat of %s or more away",
						e, w.Cut.Value(), before.CutOn(e).Value(p.Unit), before.Stripe.Value(p.Unit))
				}
			}
			seams := before.Stripe.Times(int64(w.Repeats)).Add(p.Seam.Times(2))
			if w.Repeats < 1 || !seams.Equal(w.Cut.Length) {
				t.Errorf("%d repeats and two allowances are %s; told %s", w.Repeats, seams.Value(p.Unit), w.Cut.Value())
			}
			s := calc.NewSheet(changed)
			got, want := w.Finished.Width.Value()+" x "+w.Finished.Length.Value(), s.Finished.Width.Value()+" x "+s.Finished.Length.Value()
			if got != want {
				t.Errorf("cut %s on %v: told to finish at %s; the sheet has %s", w.Cut.Value(), w.Edges, got, want)
			}
			for _, again := range calc.NearestWidths(changed, 1) {
				if again.Edges[0] == w.Edges[0] {
					t.Errorf("cut %s on %v is on one line, and yet %s is offered", w.Cut.Value(), w.Edges, again.Cut.Value())
				}
			}
		}
	})
}

// drawStripe draws a plan of one striped border.
func drawStripe(t *rapid.T) calc.Plan {
	width := writtenLength(leastCut, 12)
	p := planOf(t, one(writtenLength(10, 80).Draw(t, "width"), writtenLength(10, 80).Draw(t, "length"), width.Draw(t, "cut"), "4"))
	b := &p.Borders[0]
	b.CutTopBottom = b.Cut
	if rapid.Bool().Draw(t, "unequal") {
		b.CutTopBottom = length(t, width.Draw(t, "cutTopBottom"))
	}
	b.Stripe = length(t, writtenLength(0.25, 14).Draw(t, "stripe"))
	b.Fabric.UsableWidth = length(t, writtenLength(3, 60).Draw(t, "usableWidth"))
	return p
}
