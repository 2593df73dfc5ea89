package draw_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

const swatch = "00112233445566778899aabbccddeeff-0011223344556677"

// photographed is the quilt with the fabric of each border drawn from a photo.
func photographed(q draw.Quilt) draw.Quilt {
	borders := append([]calc.Border{}, q.Plan.Borders...)
	q.Tiles = nil
	for i := range borders {
		borders[i].Photo = swatch
		q.Tiles = append(q.Tiles, draw.Tile{Address: fmt.Sprintf("/tile-%d.jpg", i+1), Along: 3, Across: 2.5, Axis: 1})
	}
	q.Plan.Borders = borders
	return q
}

var printedAs = regexp.MustCompile(`<path fill="url\(#stripe-(\d+)\)" transform="matrix\(([^)]*)\)"`)

// A photographed print shows its right side wherever it is drawn: strips are turned, and no
// drawing mirrors one. What mirrors at a miter does so because the print itself does.
func TestAPhotographedPrintIsTurnedAndNeverMirrored(t *testing.T) {
	for name, q := range tried(t) {
		q = photographed(q)
		drawn := 0
		for _, s := range scenes(q) {
			for _, m := range printedAs.FindAllStringSubmatch(q.Draw(s), -1) {
				drawn++
				var n [6]float64
				for i, written := range strings.Fields(m[2]) {
					n[i], _ = strconv.ParseFloat(written, 64)
				}
				if n[0]*n[3]-n[1]*n[2] <= 0 {
					t.Errorf("%s: in %+v border %s is seen mirrored, by matrix(%s)", name, s, m[1], m[2])
				}
			}
		}
		if drawn == 0 {
			t.Errorf("%s: no drawing shows the print", name)
		}
	}
}

// Each pattern that a drawing fills with is among the quilt's own, once, with the tile or without.
func TestEveryPhotographedBorderHasItsPattern(t *testing.T) {
	for name, q := range tried(t) {
		q = photographed(q)
		for _, tiles := range [][]draw.Tile{q.Tiles, nil} {
			q.Tiles = tiles
			defs := q.Defs()
			for i := range q.Plan.Borders {
				id := fmt.Sprintf(`<pattern id="stripe-%d"`, i+1)
				if n := strings.Count(defs, id); n != 1 {
					t.Errorf("%s, %d tiles: %s is there %d times, want once", name, len(tiles), id, n)
				}
				if has := strings.Contains(defs, fmt.Sprintf("/tile-%d.jpg", i+1)); has != (tiles != nil) {
					t.Errorf("%s: the tile of border %d is in the pattern: %t", name, i+1, has)
				}
			}
		}
	}
}

// The tile lies with its mirror axis on the strip's middle, and so far into the repeat as the plan
// says at the inner raw edge.
func TestATileLiesWhereThePlanSays(t *testing.T) {
	q := quiltOf(t, `{"center":{"width":"24","length":"30"},"borders":[{"cut":"5","stripe":"2 1/2","start":"3/4","motif":"3","photo":"`+swatch+`"}]}`)
	q.Tiles = []draw.Tile{{Address: "/tile.jpg", Along: 3, Across: 2.5, Axis: 1}}
	defs := q.Defs()
	for _, want := range []string{
		`<pattern id="stripe-1" patternUnits="userSpaceOnUse" x="-1.5" y="-0.75" width="3" height="2.5">`,
		`<image xlink:href="/tile.jpg" x="-1" width="3.012" height="2.51"`,
	} {
		if !strings.Contains(defs, want) {
			t.Errorf("the patterns are %s, want %s", defs, want)
		}
	}
}

// The strip lies on the print as deep as it is cut, its seams a seam allowance in from its edges.
func TestAStripIsShownOnItsPrint(t *testing.T) {
	q := quiltOf(t, `{"center":{"width":"24","length":"30"},"borders":[{"cut":"5","stripe":"2 1/2","photo":"`+swatch+`"},{"cut":"2"}]}`)
	if got := q.OnPrint(0); got != "" {
		t.Errorf("without a picture of the print: %.80s, want nothing", got)
	}
	q.Tiles = []draw.Tile{{Address: "/tile.jpg", Along: 3, Across: 2.5}}
	if got := q.OnPrint(1); got != "" {
		t.Errorf("of a border without a photo: %.80s, want nothing", got)
	}
	var at []float64
	for _, m := range regexp.MustCompile(`class="(?:raw|stitch)" d="M0 ([\d.]+)L440`).FindAllStringSubmatch(q.OnPrint(0), -1) {
		y, _ := strconv.ParseFloat(m[1], 64)
		at = append(at, y)
	}
	if len(at) != 4 {
		t.Fatalf("edges and seams lie at %v, want four lines: %s", at, q.OnPrint(0))
	}
	inch := (at[1] - at[0]) / 5
	for i, want := range []float64{0.25, 4.75} {
		if got := (at[2+i] - at[0]) / inch; got < want-0.02 || got > want+0.02 {
			t.Errorf("a seam lies %.3f in from the inner edge, want %.2f", got, want)
		}
	}
}

// A print with its heads up lies upright on every edge of the whole top; with its heads outwards
// its top points away from the center.
func TestAOneWayPrintLiesAsItsHeadsSay(t *testing.T) {
	for _, c := range []struct {
		heads string
		down  bool
		tops  string // where the photo's top points on each edge, left, right, top, bottom
	}{
		{"up", false, "0,-1 0,-1 0,-1 0,-1"},
		{"up", true, "0,-1 0,-1 0,-1 0,-1"},
		{"outwards", false, "-1,0 1,0 0,-1 0,1"},
		{"inwards", false, "1,0 -1,0 0,1 0,-1"},
	} {
		q := quiltOf(t, `{"center":{"width":"24","length":"30"},"borders":[{"cut":"5","photo":"`+swatch+`","fabric":{"way":"one-way","heads":"`+c.heads+`"}}]}`)
		q.Tiles = []draw.Tile{{Address: "/tile.jpg", Along: 3, Across: 2.5, Axis: 1, Down: c.down}}
		tops := []string{}
		for _, m := range printedAs.FindAllStringSubmatch(q.Draw(draw.Scene{Kind: draw.PlanScene}), -1) {
			var n [6]float64
			for i, written := range strings.Fields(m[2]) {
				n[i], _ = strconv.ParseFloat(written, 64)
			}
			x, y := -n[2], -n[3] // of the tile's top
			if c.down {
				x, y = -n[0], -n[1] // the photo's top is the tile's left
			}
			sign := func(v float64) int { return map[bool]int{true: 1}[v > 1e-6] - map[bool]int{true: 1}[v < -1e-6] }
			tops = append(tops, fmt.Sprintf("%d,%d", sign(x), sign(y)))
		}
		if got := strings.Join(tops, " "); got != c.tops {
			t.Errorf("heads %s, down %t: the photo's top points to %s, want %s", c.heads, c.down, got, c.tops)
		}
	}
}
