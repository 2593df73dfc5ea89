package steps_test

import (
	"encoding/json"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps"
)

// Strips of 80 1/2 in are longer than fabric of 40 is wide: they are cut as bought, across it
// in parts, and the parts joined straight, 1/2 in to each join, before they are measured.
func TestCopingStripsAreCutAsBought(t *testing.T) {
	w := begin(t, plans["coping on sides"])
	picked := w.Sheet.Coping.Fabric.Picked()
	if picked.Join != "straight" {
		t.Fatalf("the coping strips are joined %q; want straight", picked.Join)
	}
	for _, edge := range []string{"left", "right"} {
		_, parts := w.Tick("coping." + edge + ".partsCut")
		if parts == nil || !parts.Cuts {
			t.Fatalf("%s: no tick for the cut of the parts", edge)
		}
		sum := calc.Length{}
		for _, n := range parts.Numbers {
			sum = sum.Add(n.Figures[1].Length)
			if !n.Figures[0].Length.Equal(w.Sheet.Coping.CutWidth.Length) {
				t.Errorf("%s: a part is %s wide; want %s", edge, n.Figures[0].Shown(), w.Sheet.Coping.CutWidth.Shown())
			}
		}
		// 2 in from either end, and the join: an end part is 2 1/2 at least.
		for _, n := range []steps.Number{parts.Numbers[0], parts.Numbers[len(parts.Numbers)-1]} {
			if n.Figures[1].Length.Less(calc.Of(5, 2, calc.Inch)) {
				t.Errorf("%s: an end part is %s; want 2 1/2 in at least", edge, n.Figures[1].Shown())
			}
		}
		takes := w.Sheet.Seam.Length.Times(2 * int64(len(parts.Numbers)-1))
		if got := sum.Sub(takes); !got.Equal(w.Sheet.Coping.CutLength.Length) {
			t.Errorf("%s: %d parts join to %s; want %s", edge, len(parts.Numbers), got.Value(calc.Inch), w.Sheet.Coping.CutLength.Shown())
		}
		_, measured := w.Tick("coping." + edge + ".measured")
		if strings.Contains(measured.Say, "grain") || !strings.Contains(strings.Join(measured.Needs, " "), "coping."+edge+".joinPressed") {
			t.Errorf("%s: %q, needs %v; want the joined strip measured, once its joins are pressed", edge, measured.Say, measured.Needs)
		}
	}
}

// A strip that fits across the fabric is cut across it in one, and the step says so.
func TestAShortCopingStripIsCutAcrossInOne(t *testing.T) {
	w := begin(t, `{"center":{"width":"30 1/2","length":"34 1/2"},"coping":{"edges":"sides","cut":"2"},"borders":[{"cut":"5 1/2","motif":"6"}]}`)
	_, tick := w.Tick("coping.left.measured")
	if _, parts := w.Tick("coping.left.parts"); parts != nil || !strings.Contains(tick.Say, "across its fabric") {
		t.Errorf("a strip of 34 1/2 from fabric of 40: %q, parts %v; want it across in one", tick.Say, parts)
	}
}

// A strip that was cut before its parts were steps stays as it was cut.
func TestACopingStripThatIsCutGetsNoParts(t *testing.T) {
	plan := plans["coping on sides"]
	w, err := steps.Resume(steps.Entry{Edition: 1, Op: steps.Op{ID: "begun", Kind: steps.KindPlan, Plan: json.RawMessage(plan)}})
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"size.settled", "coping.left.measured", "coping.left.cut"} {
		op := tickOp(id, true)
		op.ID = id
		w, _ = w.Recall(steps.Entry{Edition: 1, Op: op})
	}
	_, cut := w.Tick("coping.left.cut")
	_, parts := w.Tick("coping.left.parts")
	if _, other := w.Tick("coping.right.parts"); !cut.Done || parts != nil || other == nil {
		t.Errorf("the left strip cut: done %t, parts %v, of the right one %v; want parts of the right one only", cut.Done, parts, other)
	}
}
