package calc_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// Where the plan says how often a stripe is printed across the fabric, or where its first line
// lies, nothing is set aside for not knowing.
func TestAPlacedStripeTakesLess(t *testing.T) {
	const plan = `{"center":{"width":"60","length":"80"},"spare":"4","borders":[{"cut":"9 1/2","stripe":"10 1/2",
		"fabric":{"usableWidth":"42","even":"0"%s}}]}`
	for _, c := range []struct{ name, says, length string }{
		// Three columns of 10 1/2 beside a repeat that is set aside: the two shorter strips share one.
		{"not known", ``, "166"},
		// Four columns; 80 + 2 x 9 1/2 + 4 = 103 (derived).
		{"four across", `,"across":4`, "103"},
		{"four across, in quotes", `,"across":"4"`, "103"},
		{"from the edge on", `,"first":"0"`, "103"},
		{"an inch in, and four strips reach just to the other edge", `,"first":"1"`, "103"},
		{"so far in that three fit", `,"first":"1 1/8"`, "166"},
		{"three across", `,"across":3`, "166"},
	} {
		need := fabricOf(t, fmt.Sprintf(plan, c.says))
		if need.Pick != "lengthwise" || need.Lengthwise.Length.Value() != c.length {
			t.Errorf("%s: %s of fabric, %q; want %s, lengthwise", c.name, need.Lengthwise.Length.Value(), need.Pick, c.length)
		}
		if c.says != "" && (need.Crosswise.Fits || !strings.Contains(need.Crosswise.Why, "Cut them lengthwise")) {
			t.Errorf("%s: crosswise fits = %t, %q; want no, as the stripe runs along the fabric", c.name, need.Crosswise.Fits, need.Crosswise.Why)
		}
	}
}

func TestAPlacedStripeThatCanNotBe(t *testing.T) {
	const plan = `{"center":{"width":"60","length":"80"},"borders":[{"cut":"9 1/2"%s}]}`
	for _, c := range []struct{ border, field, want string }{
		{`,"fabric":{"across":4}`, "borders[0].fabric.across", "this border has none"},
		{`,"fabric":{"first":"1"}`, "borders[0].fabric.first", "this border has none"},
		{`,"stripe":"10 1/2","fabric":{"across":0}`, "borders[0].fabric.across", "from 1 to 100"},
		{`,"stripe":"10 1/2","fabric":{"across":4.5}`, "borders[0].fabric.across", "from 1 to 100"},
		{`,"stripe":"10 1/2","fabric":{"across":[4]}`, "borders[0].fabric.across", "from 1 to 100"},
		{`,"stripe":"10 1/2","fabric":{"across":5,"usableWidth":"42"}`, "borders[0].fabric.across", "51 1/2 in"},
		{`,"stripe":"10 1/2","fabric":{"across":4,"first":"1 1/8","usableWidth":"42"}`, "borders[0].fabric.across", "42 1/8 in"},
		{`,"stripe":"10 1/2","fabric":{"first":"33","usableWidth":"42"}`, "borders[0].fabric.first", "42 1/2 in"},
		{`,"stripe":"10 1/2","fabric":{"first":"-1"}`, "borders[0].fabric.first", ""},
	} {
		_, err := calc.ParsePlan([]byte(fmt.Sprintf(plan, c.border)))
		if err == nil || !strings.Contains(err.Error(), c.field+": ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want a fault of %s with %q", c.border, err, c.field, c.want)
		}
	}
}

// The strips of a placed stripe lie inside the fabric, none over another, each on a line of the
// stripe that is there, and take what the packing finds for the room that they have.
func TestPlacedStripesLieOnTheirLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		step, cut := num("stripe", 8, 120), num("cut", 12, 140)
		first, across := num("first", 0, 60), num("across", 0, 6)
		known := rapid.Bool().Draw(t, "first known") || across == 0
		says := ""
		from, to := 0, 1<<30
		if known {
			says, from = fmt.Sprintf(`,"first":"%s"`, inches(first)), first
		}
		usable := from + cut + num("more", 0, 500)
		if across > 0 {
			usable = max(usable, from+(across-1)*step+cut)
			says += fmt.Sprintf(`,"across":%d`, across)
			to = from + across*step
		}
		room := min(usable, to) - from
		plan := fmt.Sprintf(`{"center":{"width":"%s","length":"%s"},"borders":[{"cut":"%s","stripe":"%s","fabric":{"usableWidth":"%s","even":"0"%s}}]}`,
			inches(num("width", 200, 900)), inches(num("length", 200, 900)), inches(cut), inches(step), inches(usable), says)
		p, s := planOf(t, plan), sheetOf(t, plan)
		way := s.Fabric[0].Lengthwise
		checkLength(t, plan, "lengthwise", way, columns(plainOf(s, 1, calc.Pair[calc.Centering]{}), room+step, step, 0))
		if !way.Fits {
			return
		}
		checkInside(t, p.Borders[0].Fabric.UsableWidth, way)
		checkWhole(t, p, s, []int{1}, way, true)
		for _, x := range way.Layout {
			at := (x.X.Length.Float(calc.Inch)*sixteen - float64(from)) / float64(step)
			if at < -1e-9 || math.Abs(at-math.Round(at)) > 1e-9 {
				t.Fatalf("%s\n%s lies %g repeats from the first line; want a whole number", plan, told(x), at)
			}
			if end := x.X.Length.Add(x.Width.Length).Float(calc.Inch) * sixteen; end > float64(from+room)+1e-9 {
				t.Fatalf("%s\n%s ends at %g/16, past the last repeat", plan, told(x), end)
			}
		}
	})
}
