package calc_test

import (
	"encoding/json"
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// The center 60 x 80 finished, one border that finishes at 6: the miter's middle lies 30 + 3 and
// 40 + 3 from the strips' middles. A repeat of 6 stands at 36 and 48 next, or, with the gap on the
// middle, at 33 and 45. Reckoned by hand.
func TestAMotifWholeInTheMiter(t *testing.T) {
	for _, c := range []struct {
		what, motif       string
		sides, topBottom  calc.Centering
		addWidth, addLong string
	}{
		{"a repeat of 6", "6", calc.OnGap, calc.OnGap, "0", "4"},
		{"a repeat of 11", "11", calc.OnMotif, calc.OnMotif, "0", "2"},
		{"a repeat of 43", "43", calc.OnMotif, calc.OnMotif, "20", "0"},
	} {
		p := planOf(t, fmt.Sprintf(`{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"6 1/2","motif":%q}]}`, c.motif))
		in := calc.NewSheet(p).Match[0].InMiter
		if in == nil {
			t.Fatalf("%s: it can't be reckoned", c.what)
		}
		if in.Centering.Sides != c.sides || in.Centering.TopBottom != c.topBottom ||
			in.AddToWidth.Total.Value() != c.addWidth || in.AddToLength.Total.Value() != c.addLong {
			t.Errorf("%s: got %+v, add %s and %s, want %s, %s, %s and %s", c.what, in.Centering,
				in.AddToWidth.Total.Value(), in.AddToLength.Total.Value(), c.sides, c.topBottom, c.addWidth, c.addLong)
		}
	}
}

// With what is added, the miter's middle lies a whole number of repeats from the strip's middle,
// or half a one more; and with less than that it does not.
func TestWhatIsAddedBringsAMotifIntoTheMiter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		eighths := func(from, to int64, name string) string {
			return fmt.Sprintf("%d/8", rapid.Int64Range(from*8, to*8).Draw(t, name))
		}
		var b struct{ Cut, Motif, Width, Length, Inner string }
		b.Cut, b.Motif, b.Inner = eighths(2, 10, "cut"), eighths(1, 14, "motif"), eighths(1, 4, "inner")
		b.Width, b.Length = eighths(20, 90, "width"), eighths(20, 90, "length")
		plan, _ := json.Marshal(map[string]any{"center": map[string]string{"width": b.Width, "length": b.Length},
			"borders": []map[string]string{{"cut": b.Inner}, {"cut": b.Cut, "motif": b.Motif}}})
		p, err := calc.ParsePlan(plan)
		if err != nil {
			t.Fatalf("ParsePlan(%s): %v", plan, err)
		}
		in := calc.NewSheet(p).Match[0].InMiter
		rat := func(l calc.Length) *big.Rat {
			r, _ := new(big.Rat).SetString(l.Value(calc.Inch))
			return r
		}
		half := big.NewRat(1, 2)
		for _, c := range []struct {
			what      string
			side, add calc.Length
			centering calc.Centering
		}{
			{"length", p.Center.Length, in.AddToLength.Total.Length, in.Centering.Sides},
			{"width", p.Center.Width, in.AddToWidth.Total.Length, in.Centering.TopBottom},
		} {
			at := new(big.Rat).Add(rat(c.side), rat(c.add)) // raw
			at.Mul(at, half).Sub(at, big.NewRat(1, 4))
			at.Add(at, rat(p.Borders[0].Cut)).Sub(at, half)
			width := new(big.Rat).Sub(rat(p.Borders[1].Cut), half)
			at.Add(at, width.Mul(width, half))
			if c.centering == calc.OnGap {
				at.Add(at, new(big.Rat).Mul(rat(p.Borders[1].Motif), half))
			}
			if !at.Quo(at, rat(p.Borders[1].Motif)).IsInt() {
				t.Errorf("%s of %s: with %v more the miter lies %v repeats from the strip's middle", c.what, plan, rat(c.add), at)
			}
			if !c.add.Less(p.Borders[1].Motif) {
				t.Errorf("%s of %s: %v is added, and less than a repeat would do", c.what, plan, rat(c.add))
			}
		}
	})
}

func TestBordersThatAreNotAlikeAllRoundHaveNoMotifInTheMiter(t *testing.T) {
	p := planOf(t, `{"center":{"width":"30","length":"40"},"borders":[{"cut":"2","cutTopBottom":"3"},{"cut":"5","cutTopBottom":"4","motif":"3"}]}`)
	if m := calc.NewSheet(p).Match[0]; !m.Possible || m.InMiter != nil {
		t.Errorf("got %+v, want a match without it", m)
	}
}
