package calc_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

func TestEveryLookLeadsOn(t *testing.T) {
	p := planOf(t, lanterns)
	s := calc.NewSheet(p)
	for _, look := range calc.Looks {
		got := calc.CheckCorner(p, s, look, length(t, "1/4"), usual)
		if got.Pass != (look == calc.LookFlat) {
			t.Errorf("%s: pass %v; only what is flat passes", look, got.Pass)
		}
		if got.Verdict.Kind != string(look) || got.Verdict.Text == "" {
			t.Errorf("%s: %+v; want words of its own", look, got.Verdict)
		}
		if !got.Pass && (len(got.Causes) == 0 || len(got.Causes[0].Redo) == 0 || len(got.Causes[0].Acts) == 0) {
			t.Errorf("%s: causes %+v; want the first with acts and what opens again", look, got.Causes)
		}
	}
}

func TestStripesThatMiss(t *testing.T) {
	// Bands finished 6 and 6: the miter is 6√2 = 8.485, and takes up 1/80 of it, 0.106
	// (cp). An allowance of 1/4 lets out 1/8, both seams together 1/4 (derived).
	even := one("36 1/2", "36 1/2", "6 1/2", "4")
	// 8 and 8, allowance 1/2: the miter takes 0.141, both seams 3/4.
	deep := `{"seam":"1/2","center":{"width":"36","length":"36"},"borders":[{"cut":"9"}]}`
	// 16: the miter is 22.627 and takes 0.283.
	wide := one("60", "60", "16 1/2", "4")
	// 12 and 16: the miter is 20 and takes 1/4; the sides' seams go 1/4 × 12/16 less far than
	// those of top and bottom would: 1/4 against 1/3.
	unlike := `{"center":{"width":"36","length":"36"},"borders":[{"cut":"12 1/2","cutTopBottom":"16 1/2"}]}`
	for _, c := range []struct {
		name, plan, miss string
		pass             bool
		first, says      string
	}{
		{"nothing", even, "0", true, "", "hardly seen"},
		{"1/8 is hardly seen (cp)", even, "1/8", true, "", "hardly seen"},
		{"3/16: both seams by half", even, "3/16", false, "miter.{corner}.folded", "more than the miter alone"},
		{"1/4: as far as two seams go", even, "1/4", false, "miter.{corner}.folded", "more than the miter alone"},
		{"5/16 is further", even, "5/16", false, "miter.{corner}.pinned", "1/4 in at most"},
		{"all that the miter takes up alone", unlike, "1/4", false, "miter.{corner}.pinned", "The miter alone can take up to 1/4 in"},
		{"of bands that differ the narrower limits both seams", unlike, "5/16", false, "miter.{corner}.pinned", "Two seams together can be moved by 1/4 in at most"},
		{"3/8: no seam goes so far", even, "3/8", false, "miter.{corner}.pinned", "1/4 in at most"},
		{"a wide allowance goes further", deep, "3/8", false, "miter.{corner}.folded", "more than the miter alone"},
		{"a long miter takes it up alone", wide, "1/4", false, "miter.{corner}.pinned", "The miter alone"},
	} {
		p := planOf(t, c.plan)
		got := calc.CheckCorner(p, calc.NewSheet(p), calc.LookStripes, length(t, c.miss), usual)
		first := ""
		if len(got.Causes) > 0 {
			first = got.Causes[0].Redo[0]
		}
		if got.Pass != c.pass || first != c.first || !strings.Contains(got.Verdict.Text, c.says) {
			t.Errorf("%s: miss %s = pass %v, first opens %q, %q; want %v, %q, with %q", c.name, c.miss, got.Pass, first, got.Verdict.Text, c.pass, c.first, c.says)
		}
	}
}

// Both seams moved by their shares close the miss: each moves its line's end along the
// side strip by half of it.
func TestSharesOfAShiftCloseTheMiss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planOf(t, plans(3).Draw(t, "plan"))
		s := calc.NewSheet(p)
		miss := length(t, writtenLength(0, 1).Draw(t, "miss"))
		sh := calc.CheckCorner(p, s, calc.LookStripes, miss, calc.DefaultLimits(p.Unit)).Shift
		along := sh.EachSeam.Sides.Length.Scale(s.Bands.TopBottom.Finished.Length, s.Bands.Sides.Finished.Length)
		if !along.Add(sh.EachSeam.TopBottom.Length).Equal(miss) {
			t.Errorf("miss %s: shares %s and %s", miss.Value(p.Unit), sh.EachSeam.Sides.Value(), sh.EachSeam.TopBottom.Value())
		}
	})
}

func TestCheckBand(t *testing.T) {
	p := planOf(t, one("40", "60", "6", "4"))
	for _, c := range []struct {
		name  string
		edges calc.Edges
		band  string
		kind  string
		every string
	}{
		{"as long as its side", calc.TopBottom, "40", calc.Right, "0 in"},
		{"1/2 in on 40 eases (cp)", calc.TopBottom, "40 1/2", calc.Ease, "0 in"},
		{"1/2 in short eases too (cp)", calc.TopBottom, "39 1/2", calc.Ease, "0 in"},
		{"1 in too long: 1/8 in every 5", calc.TopBottom, "41", calc.Wavy, "5 in"},
		{"1 in too short", calc.TopBottom, "39", calc.Pulled, "5 in"},
		{"3/4 in eases into 60 (cp)", calc.Sides, "60 3/4", calc.Ease, "0 in"},
		{"1 1/2 on 60: 1/8 in every 5", calc.Sides, "61 1/2", calc.Wavy, "5 in"},
	} {
		got := calc.CheckBand(p, c.edges, length(t, c.band), usual)
		if got.Verdict.Kind != c.kind || got.Every.Shown() != c.every {
			t.Errorf("%s: band of %s = %s, every %s; want %s, %s", c.name, c.band, got.Verdict.Kind, got.Every.Shown(), c.kind, c.every)
		}
	}
}

// A miss of 1/4 is shared: 1/8 each where the bands are alike, and 1/8 × 12/16 = 3/32 on
// the side where they are 12 and 16.
func TestAShiftIsToldAsTheBandsAre(t *testing.T) {
	for bands, says := range map[string]string{
		`{"cut":"6 1/2"}`:                          "Draw a seam 1/8 in nearer the raw edge, on the strip whose line lies nearer the center. Draw a seam 1/8 in farther from the raw edge, on the other strip. The new lines run to nothing over 10 in.",
		`{"cut":"12 1/2","cutTopBottom":"16 1/2"}`: "on the other strip. The side's seam moves by 3/32 in, the other by 1/8 in. The new lines run to nothing over 10 in.",
	} {
		p := planOf(t, `{"center":{"width":"36","length":"36"},"borders":[`+bands+`]}`)
		look := calc.CheckCorner(p, calc.NewSheet(p), calc.LookStripes, length(t, "1/4"), usual)
		told := ""
		for _, cause := range look.Causes {
			told += strings.Join(cause.Acts, " ")
		}
		if !strings.Contains(told, says) {
			t.Errorf("%s: a miss of 1/4: %q; want %q", bands, told, says)
		}
	}
}

// The acts come in the order of the work, and what opens again goes on where they end:
// nothing is sewn before it is folded and pinned, and a dot that moves is marked first.
func TestACornerIsMendedInTheOrderOfTheWork(t *testing.T) {
	first := func(acts []string, with string) int {
		return slices.IndexFunc(acts, func(act string) bool { return strings.HasPrefix(act, with) })
	}
	for _, plan := range []string{one("36 1/2", "36 1/2", "6 1/2", "4"), lanterns} {
		p := planOf(t, plan)
		s := calc.NewSheet(p)
		moved := 0
		for _, look := range calc.Looks[1:] {
			for _, miss := range []string{"3/16", "1/4", "1"} {
				for _, c := range calc.CheckCorner(p, s, look, length(t, miss), usual).Causes {
					if len(c.Then) == 0 {
						continue // nothing of the corner is done again
					}
					acts := slices.Concat(c.Acts, c.Then)
					fold, sew, dot := first(acts, "Fold"), first(acts, "Sew from the dot"), first(acts, "Mark the dot anew")
					if fold < 0 || sew < fold || dot > fold || first(acts, "Look") != len(acts)-1 {
						t.Errorf("%s, %s: %q; want it marked, folded, sewn and looked at, in this order", look, c.Text, acts)
					}
					if unpick := first(acts, "Unpick"); unpick > 0 && !strings.HasPrefix(acts[0], "If") {
						t.Errorf("%s, %s: %q; want it unpicked before all else", look, c.Text, acts)
					}
					if dot > 0 {
						moved++
						if pin, draw := first(acts, "Pin both"), first(acts, "Draw "); draw > dot || pin < dot {
							t.Errorf("%s, %s: %q; want the new seams drawn, the dot marked, then pins", look, c.Text, acts)
						}
					}
				}
			}
		}
		if moved == 0 {
			t.Error("no dot was moved: want the seams' way among them")
		}
	}
}

// On plain borders nothing speaks of stripes: what meets there are the seams between
// them, and on one border nothing does.
func TestPlainBordersHaveNoStripes(t *testing.T) {
	for plan, meet := range map[string]string{
		lanterns: "stripes",
		`{"center":{"width":"36","length":"36"},"borders":[{"cut":"6","motif":"3"}]}`: "prints",
		`{"center":{"width":"36","length":"36"},"borders":[{"cut":"6"},{"cut":"3"}]}`: "seams",
		`{"center":{"width":"36","length":"36"},"borders":[{"cut":"6"}]}`:             "",
	} {
		p := planOf(t, plan)
		s := calc.NewSheet(p)
		if got := p.Meet(); got != meet {
			t.Errorf("%s: %q meet, want %q", plan, got, meet)
		}
		for _, look := range calc.Looks {
			for _, miss := range []string{"1/16", "3/16", "1/4", "1"} {
				c := calc.CheckCorner(p, s, look, length(t, miss), usual)
				said := strings.ToLower(c.Verdict.Text + c.Verdict.Act)
				for _, x := range c.Causes {
					said += strings.ToLower(x.Text + x.Tell + strings.Join(x.Acts, " ") + strings.Join(x.Then, " "))
				}
				if meet != "stripes" && strings.Contains(said, "stripe") || strings.Contains(said, "%!") {
					t.Errorf("%s, %s, %s: says %q", plan, look, miss, said)
				}
			}
		}
	}
}
