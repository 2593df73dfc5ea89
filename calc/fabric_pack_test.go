package calc_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
	"cornerwise/calc/pack"
)

// What the sheet says of fabric is what the packing finds for its strips, read back from
// the sheet in sixteenths of an inch; that this is the least is tested there.

// columns and rows are the least lengths that the packing finds, −1 for none.
func columns(strips []pack.Strip, usable, step, motif int) int64 {
	return lengthOf(pack.Task{Strips: strips, Step: int64(step), Motif: int64(motif), Work: 20000}.Columns(int64(usable)))
}

func rows(strips []pack.Strip, usable, step, motif int) int64 {
	return lengthOf(pack.Task{Strips: strips, Step: int64(step), Motif: int64(motif), Work: 20000}.Rows(int64(usable)))
}

func lengthOf(layout *pack.Layout, proved bool) int64 {
	if layout == nil {
		return -1
	}
	if !proved {
		panic("a layout of a few strips is not proved")
	}
	return layout.Length
}

const sixteen = 16

func inches(n int) string { return fmt.Sprintf("%d/%d", n, sixteen) }

// plainOf reads the strips back from the sheet.
func plainOf(s calc.Sheet, border int, centering calc.Pair[calc.Centering]) []pack.Strip {
	var list []pack.Strip
	for _, x := range s.Strips {
		if border == 0 || x.Border == border {
			p := pack.Strip{
				Width:  int64(math.Round(x.CutWidth.Length.Float(calc.Inch) * sixteen)),
				Length: int64(math.Round(x.CutLength.Length.Float(calc.Inch) * sixteen)),
				Gap:    centering.On(x.Edges) == calc.OnGap,
			}
			list = append(list, p, p)
		}
	}
	return list
}

func checkLength(t *rapid.T, plan, what string, way *calc.Way, want int64) {
	t.Helper()
	if way.Fits != (want >= 0) {
		t.Fatalf("%s\n%s: fits = %t (%s); the packing finds %d/16", plan, what, way.Fits, way.Why, want)
	}
	if want >= 0 {
		if got := way.Length.Length.Float(calc.Inch) * sixteen; got != float64(want) {
			t.Fatalf("%s\n%s: length %g/16; the packing finds %d/16", plan, what, got, want)
		}
	}
}

// A border's four strips, any width, stripe, motif and fabric.
func TestOneBorderIsCutAsPacked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		cut := num("cut", 10, 140)
		cutTopBottom := cut
		if rapid.Bool().Draw(t, "unequal") {
			cutTopBottom = max(10, min(140, cut+num("differs", -24, 24)))
		}
		stripe, motif := "", ""
		step, repeat := 0, 0
		if rapid.Bool().Draw(t, "striped") {
			step = num("stripe", 4, 60)
			stripe = fmt.Sprintf(`,"stripe":%q`, inches(step))
		}
		if rapid.Bool().Draw(t, "printed") {
			repeat = 2 * num("motif", 8, 120)
			motif = fmt.Sprintf(`,"motif":%q`, inches(repeat))
		}
		usable := num("usable", 100, 1400)
		plan := fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"cut":%q,"cutTopBottom":%q%s%s,"fabric":{"usableWidth":%q,"join":"none"}}],"spare":%q}`,
			inches(2*num("width", 20, 500)), inches(2*num("length", 20, 500)), inches(cut), inches(cutTopBottom), stripe, motif, inches(usable), inches(2*num("spare", 0, 64)))
		s := sheetOf(t, plan)
		if len(s.Notes) > 0 && cut != cutTopBottom && s.Strips[0].CutLength.Length.Equal(s.Strips[0].LeastLength.Length.Round(calc.Inch, calc.CutUp)) {
			t.Skip("a strip cut to its least length")
		}
		among := []calc.Pair[calc.Centering]{{Sides: calc.OnMotif, TopBottom: calc.OnMotif}}
		if repeat > 0 && cut == cutTopBottom {
			among = nil
			for _, m := range calc.Centerings(planOf(t, plan), 1) {
				if m.Mismatch.Length.Equal(s.Match[0].Mismatch.Length) {
					among = append(among, m.Centering)
				}
			}
		}
		along, across := int64(-1), int64(-1)
		for _, c := range among {
			strips := plainOf(s, 1, c)
			if n := columns(strips, usable, step, repeat); n >= 0 && (along < 0 || n < along) {
				along = n
			}
			if n := rows(strips, usable, step, repeat); n >= 0 && (across < 0 || n < across) {
				across = n
			}
		}
		checkLength(t, plan, "lengthwise", s.Fabric[0].Lengthwise, along)
		checkLength(t, plan, "crosswise", s.Fabric[0].Crosswise, across)
	})
}

// Two borders from one fabric: eight strips.
func TestSharedFabricIsCutAsPacked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		step, stripe := 0, ""
		if rapid.Bool().Draw(t, "striped") {
			step = num("stripe", 4, 40)
			stripe = fmt.Sprintf(`,"stripe":%q`, inches(step))
		}
		usable := num("usable", 200, 900)
		fabric := fmt.Sprintf(`%s,"fabric":{"name":"dusk","usableWidth":%q,"join":"none"}`, stripe, inches(usable))
		plan := fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"cut":%q%s},{"cut":%q%s}],"spare":"0"}`,
			inches(num("width", 40, 600)), inches(num("length", 40, 600)), inches(num("inner", 10, 90)), fabric, inches(num("outer", 10, 90)), fabric)
		s := sheetOf(t, plan)
		strips := plainOf(s, 0, calc.Pair[calc.Centering]{})
		checkLength(t, plan, "lengthwise", s.Together[0].Lengthwise, columns(strips, usable, step, 0))
		checkLength(t, plan, "crosswise", s.Together[0].Crosswise, rows(strips, usable, step, 0))
	})
}
