package draw_test

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"
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
		defs := q.Defs()
		if got := strings.Contains(defs, `id="stripe-1t"`); got != c.gap {
			t.Errorf("length %s: the pairs have prints of their own is %v, want %v (centering %v)", c.length, got, c.gap, q.Sheet.Match[0].Centering)
		}
	}
}
