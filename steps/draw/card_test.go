package draw_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"cornerwise/calc"
)

// An inch is 25.4 mm (exact, since 1959). The card's units are tenths of a millimeter.
func TestTheCardIsTheCornerAtTrueSize(t *testing.T) {
	const inch = 254.0
	size := regexp.MustCompile(`width="([\d.]+)mm" height="([\d.]+)mm" ` +
		`viewBox="0 0 ([\d.]+) ([\d.]+)"`)
	whole := 0
	for name, q := range quilts(t) {
		card := q.Card()
		said := size.FindStringSubmatch(card.SVG)
		if said == nil {
			t.Fatalf("%s: the card does not say its size: %.200s", name, card.SVG)
		}
		n := make([]float64, 4)
		for i := range n {
			n[i], _ = strconv.ParseFloat(said[i+1], 64)
		}
		if math.Abs(n[2]/n[0]-10) > 1e-6 || math.Abs(n[3]/n[1]-10) > 1e-6 {
			t.Errorf("%s: it is %v mm and units, want ten units to the millimeter", name, n)
		}
		// A4 is 210 mm wide, Letter 279.4 mm high (ISO 216; ANSI Y14.1). 20 mm of rim on every
		// side, 20 mm of head and 45 mm of words leave this.
		if n[0] > 170 || n[1] > 279.4-40-20-45 {
			t.Errorf("%s: it is %v mm × %v mm, too large for A4 or Letter", name, n[0], n[1])
		}
		_, marks := read(t, card.SVG)
		for class, want := range map[string]float64{"rule-inch": inch, "rule-cm": 500} {
			line := only(t, marks, "path", class).places
			if got := line[1][0] - line[0][0]; got != want || line[0][1] != line[1][1] {
				t.Errorf("%s: the line %s is %v long from %v, want %v, level", name, class, got, line[0], want)
			}
		}
		round := only(t, marks, "circle", "dot").places
		dot := [2]float64{(round[0][0] + round[1][0]) / 2, (round[0][1] + round[1][1]) / 2}
		miter := only(t, marks, "path", "cardmiter").places
		if math.Hypot(miter[0][0]-dot[0], miter[0][1]-dot[1]) > 0.1 {
			t.Errorf("%s: the miter line begins at %v, want the dot at %v", name, miter[0], dot)
		}
		dx, dy := miter[0][0]-miter[1][0], miter[0][1]-miter[1][1]
		c := q.Sheet.Corner
		if got := math.Atan2(dx, dy) * 180 / math.Pi; math.Abs(got-float64(c.AngleSides)) > 0.05 {
			t.Errorf("%s: the miter line is at %.2f° to the seam of the sides, want %.2f°",
				name, got, float64(c.AngleSides))
		}
		long := c.DrawnLineSides.Length.Float(calc.Inch)
		long = max(long, c.DrawnLineTopBottom.Length.Float(calc.Inch))
		shown := math.Hypot(dx, dy) / inch
		if card.Whole != (math.Abs(shown-long) < 0.001) {
			t.Errorf("%s: it shows %.3f in of %.3f in and says whole: %v", name, shown, long, card.Whole)
		}
		if got := card.Shown.Length.Float(calc.Inch); got > shown+0.001 || got < shown-0.08 {
			t.Errorf("%s: it says that it shows %v in, want the %.3f in that it does, or a little less",
				name, got, shown)
		}
		if card.Whole {
			whole++
			// Each strip's raw edge is a seam allowance beyond its band's finished width.
			edges := map[bool]float64{}
			for _, m := range marks {
				if m.class == "rawthin" {
					level := m.places[0][1] == m.places[1][1]
					edges[level] = dot[0] - m.places[0][0]
					if level {
						edges[level] = dot[1] - m.places[0][1]
					}
				}
			}
			seam := q.Plan.Seam.Float(calc.Inch)
			bands := map[bool]calc.Band{false: q.Sheet.Bands.Sides, true: q.Sheet.Bands.TopBottom}
			for level, band := range bands {
				want := (band.Finished.Length.Float(calc.Inch) + seam) * inch
				if math.Abs(edges[level]-want) > 0.2 {
					t.Errorf("%s: the raw edge, level %v, is %.1f from the dot, want %.1f",
						name, level, edges[level], want)
				}
			}
		}
		for _, m := range marks {
			for _, p := range m.places {
				if p[0] < -3 || p[0] > n[2]+3 || p[1] < -3 || p[1] > n[3]+3 {
					t.Errorf("%s: %s %q %q reaches %v, outside of %v × %v",
						name, m.element, m.class, m.text, p, n[2], n[3])
					break
				}
			}
		}
		checkWords(t, name, marks)
		if strings.Contains(card.SVG, "url(#") {
			t.Errorf("%s: the card is filled with fabric, want lines only", name)
		}
	}
	if whole == 0 || whole == len(quilts(t)) {
		t.Errorf("%d of %d cards are whole, want some of either kind", whole, len(quilts(t)))
	}
}
