package draw_test

import (
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"cornerwise/steps/draw"
)

func TestALayoutShowsEveryPiece(t *testing.T) {
	for name, plan := range map[string]string{
		"lengthwise, striped": `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","stripe":"1 1/8"}]}`,
		"crosswise, joined":   `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"1 1/2"}]}`,
		"with a print":        `{"unit":"cm","center":{"width":"60","length":"80"},"borders":[{"cut":"12","motif":"7,5"}]}`,
	} {
		q := quiltOf(t, plan)
		ways := q.Sheet.Cloth[0].Ways
		picked := ways.Picked()
		svg := q.Layout(picked, picked == ways.Lengthwise)
		if got := strings.Count(svg, `class="tl"`); got != len(picked.Layout) {
			t.Errorf("%s: the layout names %d pieces, want %d", name, got, len(picked.Layout))
		}
		if !strings.Contains(svg, picked.Length.Shown()) {
			t.Errorf("%s: the layout does not say %s of cloth", name, picked.Length.Shown())
		}
		for d := xml.NewDecoder(strings.NewReader(svg)); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: the layout is not well-formed: %v", name, err)
			}
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
