package calc_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

const lanterns = `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[
	{"name":"dark line","cut":"1 1/2"},
	{"name":"ticking","cut":"5 1/2","cutTopBottom":"6 1/2","stripe":"1 1/8"}]}`

func TestCheckSeam(t *testing.T) {
	for _, c := range []struct {
		source                        string
		strips                        int
		cut, across                   string
		kind, allowance, toward, does string
	}{
		// J. Cahoon, Quiltcentric, 16 September 2012; the allowances derived.
		{"three of 1 1/2 make 3 1/2", 3, "1 1/2", "3 1/2", calc.Right, "0.25", "", ""},
		{"three of 2, the middle 1 1/2", 3, "2", "5", calc.Right, "0.25", "", ""},
		{"3 7/16 means 0.2656", 3, "1 1/2", "3 7/16", calc.Fat, "0.265625", "the raw edge", "0.125 in (3.2 mm) smaller"},
		{"3 9/16 means 0.2344", 3, "1 1/2", "3 9/16", calc.Scant, "0.234375", "away from the raw edge", "0.125 in (3.2 mm) larger"},
		{"two strips have one seam", 2, "2 1/2", "4 1/4", calc.Fat, "0.375", "the raw edge", "1 in (25.4 mm) smaller"},
		{"wider than the strips together", 3, "1 1/2", "4 3/4", calc.NoCheck, "-0.0625", "", ""},
		{"no strip left to see", 3, "1 1/2", "1 1/2", calc.NoCheck, "0.75", "", ""},
	} {
		got := calc.CheckSeam(planOf(t, lanterns), c.strips, length(t, c.cut), length(t, c.across), usual)
		if got.Verdict.Kind != c.kind || got.Allowance.Value() != c.allowance || got.Toward != c.toward || !strings.Contains(got.Verdict.Text, c.does) {
			t.Errorf("%s: CheckSeam(%d × %s, %s) = %s, allowance %s, needle toward %q, %q; want %s, %s, %q, with %q",
				c.source, c.strips, c.cut, c.across, got.Verdict.Kind, got.Allowance.Value(), got.Toward, got.Verdict.Text, c.kind, c.allowance, c.toward, c.does)
		}
	}
}

func TestASeamsErrorAddsUp(t *testing.T) {
	// 1/64 in fat: eight allowances in four seams, 1/8 in (derived). Two borders on
	// both sides are four seams across: 48 1/2 − 1/8 raw.
	got := calc.CheckSeam(planOf(t, lanterns), 3, length(t, "1 1/2"), length(t, "3 7/16"), usual)
	if got.Seams != 4 || got.InFour.Value() != "0.125" || got.Top.Value() != "0.125" || got.Expected.Width.Value() != "48.375" || got.Expected.Length.Value() != "62.375" {
		t.Errorf("3 7/16: %d seams, four come to %s, this top %s, raw %s x %s; want 4, 0.125, 0.125, 48.375 x 62.375",
			got.Seams, got.InFour.Value(), got.Top.Value(), got.Expected.Width.Value(), got.Expected.Length.Value())
	}
	one := calc.CheckSeam(planOf(t, one("20", "20", "5", "4")), 3, length(t, "1 1/2"), length(t, "3 7/16"), usual)
	if one.Seams != 2 || one.Top.Value() != "0.0625" {
		t.Errorf("one border: %d seams, %s; want 2 and 0.0625", one.Seams, one.Top.Value())
	}
}

// The test piece that measures as planned is right; one that does not shows the very
// allowance that it was sewn with.
func TestSeamCheckProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planOf(t, plans(3).Draw(t, "plan"))
		test := calc.NewSeamTest(p)
		got := test.Check(p, test.Across.Length, calc.DefaultLimits(p.Unit))
		if got.Verdict.Kind != calc.Right || got.Top.Length.Sign() != 0 {
			t.Errorf("%s: as planned: %+v; want right, the top as it is", test.Across.Shown(), got)
		}
		k, sewn := rapid.IntRange(2, 6).Draw(t, "strips"), length(t, writtenLength(0, 1).Draw(t, "allowance"))
		across := test.Cut.Length.Times(int64(k)).Sub(sewn.Times(2 * int64(k-1)))
		if c := calc.CheckSeam(p, k, test.Cut.Length, across, calc.DefaultLimits(p.Unit)); !c.Allowance.Length.Equal(sewn) {
			t.Errorf("%d strips sewn at %s show %s", k, sewn.Value(p.Unit), c.Allowance.Value())
		}
	})
}

// 3 7/16 is 0.265625, 1/64 fat (J. Cahoon, Quiltcentric, 16 September 2012): a ruler has
// no line for either, and every figure says so. In a cm plan 2 mm over three strips are
// 0.5 mm a seam.
func TestASeamsErrorIsNeverShownAsNothing(t *testing.T) {
	for plan, c := range map[string]struct{ across, allowance, off, act string }{
		lanterns: {"3 7/16", "0.266 in (6.7 mm)", "0.016 in (0.4 mm)", "Move the needle 0.016 in (0.4 mm) toward the raw edge."},
		`{"unit":"cm","center":{"width":"90","length":"120"},"borders":[{"cut":"14"}]}`: {"8,8", "0.8 cm", "0.5 mm", "Move the needle 0.5 mm toward the raw edge."},
	} {
		p := planOf(t, plan)
		across, err := calc.ParseLength(c.across, p.Unit)
		if err != nil {
			t.Fatal(err)
		}
		trouble, _ := calc.TroubleOf("allowance")
		a := trouble.Answer(p, calc.NewSheet(p), calc.Entered{Lengths: map[string]calc.Length{"across": across}}, calc.DefaultLimits(p.Unit))
		got := shown(a.Figures)
		if got["allowance taken"] != c.allowance || got["off by"] != c.off || a.Ways[0].Figures[0].Figure.Shown() != c.off || a.Ways[0].Acts[0] != c.act {
			t.Errorf("%s: %v, %q; want %s, off by %s, %q", c.across, got, a.Ways[0].Acts, c.allowance, c.off, c.act)
		}
	}
}
