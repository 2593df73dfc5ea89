package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// cuts are all scenes of a quilt's strips and fabric in which something is cut.
func cuts(q draw.Quilt) []draw.Scene {
	var all []draw.Scene
	for i, b := range q.Plan.Borders {
		all = append(all, draw.Scene{Kind: draw.FabricScene, Act: "square", Border: i + 1})
		for _, edge := range []string{"left", "right", "top", "bottom"} {
			s := draw.Scene{Kind: draw.StripScene, Edge: edge, Border: i + 1}
			acts := "cut end"
			if parts(q, i+1, edge) > 0 {
				acts += " parts-cut"
				if b.Fabric.Join == "diagonal" {
					acts += " join-trim"
				}
			}
			for _, act := range strings.Fields(acts) {
				s.Act = act
				all = append(all, s)
			}
			strip := q.Sheet.Strips[2*i]
			s.Act, s.Piece = "end", &draw.Piece{Wide: strip.CutWidth, Long: strip.CutLength, Off: calc.Figure{Length: strip.CutWidth.Length.Half(), Unit: q.Plan.Unit}}
			all = append(all, s)
			s.Act, s.Piece = "cut", &draw.Piece{Wide: strip.CutWidth, Long: strip.CutWidth}
			all = append(all, s)
		}
	}
	if q.Plan.Coping != nil {
		all = append(all, draw.Scene{Kind: draw.CopingScene, Act: "square"}, draw.Scene{Kind: draw.CopingScene, Act: "cut"})
	}
	return all
}

// Whoever cuts with the right hand cuts away from the body: the ruler lies left of the line,
// its edge on it, the blade runs up along that, and what comes off lies at the right. For a left
// hand left and right are exchanged.
func TestEveryCutIsMadeByTheHand(t *testing.T) {
	for name, q := range tried(t) {
		for _, hand := range []float64{1, -1} { // right, left
			q.LeftHand = hand < 0
			eachCut(t, name, q, hand)
		}
	}
}

func eachCut(t *testing.T, name string, q draw.Quilt, hand float64) {
	for _, s := range cuts(q) {
		at := fmt.Sprintf("%s, left hand %v: Draw(%+v)", name, q.LeftHand, s)
		_, marks := read(t, q.Draw(s))
		var rulers, lines, blades, fabric []mark
		for _, m := range marks {
			switch {
			case m.inLoupe:
			case m.class == "ruler":
				rulers = append(rulers, m)
			case m.class == "cutline":
				lines = append(lines, m)
			case m.class == "blade":
				blades = append(blades, m)
			case m.class == "" && m.element == "path", m.class == "ghostfill", m.class == "coping", m.class == "wrong", len(m.class) == 2 && m.class[0] == 'c':
				fabric = append(fabric, m)
			}
		}
		if len(rulers) == 0 || len(rulers) != len(lines) || len(rulers) != len(blades) {
			t.Errorf("%s: %d rulers, %d lines to cut, %d blades; want one of each for each cut", at, len(rulers), len(lines), len(blades))
			continue
		}
		for i, line := range lines {
			from, to := line.places[0], line.places[1]
			if math.Abs(from[0]-to[0]) > 0.2 || from[1]-to[1] < 20 {
				t.Errorf("%s: the cut runs from %.0f to %.0f, want it up", at, from, to)
			}
			r := rulers[i].places
			low, high := r[0], r[1]
			if hand < 0 {
				low, high = high, low
			}
			if apart(low, from) > 0.3 || apart(high, to) > 0.3 || hand*(r[2][0]-from[0]) > -20 {
				t.Errorf("%s: the ruler has its edge from %.0f to %.0f and reaches to %.0f, want it on the cut from %.0f to %.0f, its body beside that", at, r[0], r[1], r[2], from, to)
			}
			if b := blades[i]; math.Abs(b.places[0][0]-from[0]) > 0.2 || b.on[1] > -0.99 || hand*b.on[2] < 0.99 {
				t.Errorf("%s: the blade is at %.0f, its way %.2f, want it on the cut and up", at, b.places[0], b.on[:2])
			}
			kept, off := false, false
			for _, m := range fabric {
				for k, a := range m.places {
					b := m.places[(k+1)%len(m.places)]
					if max(a[1], b[1]) < to[1] || min(a[1], b[1]) > from[1] {
						continue
					}
					ax, bx := hand*(a[0]-from[0]), hand*(b[0]-from[0])
					kept = kept || min(ax, bx) < -15
					off = off || max(ax, bx) > 4
				}
			}
			if !kept || !off {
				t.Errorf("%s: fabric under the ruler is %v, on the other side of the cut %v, want both", at, kept, off)
			}
		}
	}
}

// Where the quilt itself is cut, the blade goes away from the person too, the ruler on the side
// of the other hand.
func TestTheQuiltIsCutByTheHand(t *testing.T) {
	for name, q := range tried(t) {
		all := []draw.Scene{{Kind: draw.CenterScene, Act: "trim"}}
		for corner := 1; corner <= 4; corner++ {
			all = append(all, draw.Scene{Kind: draw.CornerScene, Act: "trim", Corner: corner}, draw.Scene{Kind: draw.CornerScene, Act: "square", Corner: corner})
		}
		for _, s := range all {
			for _, hand := range []float64{1, -1} { // right, left
				q.LeftHand = hand < 0
				at := fmt.Sprintf("%s, left hand %v: Draw(%+v)", name, q.LeftHand, s)
				_, marks := read(t, q.Draw(s))
				var ruler, blade *mark
				for i, m := range marks {
					switch {
					case m.class == "ruler" && ruler == nil:
						ruler = &marks[i]
					case m.class == "blade" && blade == nil:
						blade = &marks[i]
					}
				}
				if ruler == nil || blade == nil {
					t.Fatalf("%s: no ruler or no blade", at)
				}
				if blade.on[1] > -0.99 || hand*blade.on[2] < 0.99 {
					t.Errorf("%s: the blade's way is %.2f, want up, its handle at the hand", at, blade.on[:4])
				}
				if body := ruler.places[2][0] - blade.places[0][0]; hand*body > -20 {
					t.Errorf("%s: the ruler reaches %.0f right of the blade, want it on the other hand's side", at, body)
				}
			}
		}
	}
}
