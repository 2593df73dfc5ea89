// Package draw makes the drawings, to scale from the plan's own numbers: right
// side in its stripe, wrong side hatched, raw edges solid, folds dotted,
// stitches dashed in thread red, what is drawn now in chalk blue, a dot where a
// seam starts and stops.
package draw

import "cornerwise/calc"

// The kinds of scene, and the acts of each.
const (
	PlanScene    = "plan"    // the bordered top with its borders, miters and sizes
	CenterScene  = "center"  // press; width-top, width-middle, width-bottom; length-left, length-middle, length-right; diagonal-1 (corner 1 to 3), diagonal-2 (corner 2 to 4); squared (Corner); trim; settle; middle (Edge); dot (Corner; wrong side up)
	CopingScene  = "coping"  // the two coping strips on Edges of the pieced center: measure, cut (the strip itself), pin (Edge), sew (Edge), press (Edge), size (both sewn, measured)
	ClothScene   = "cloth"   // ready: the cloth of Border, pressed and straightened, the line of the stripe to start on
	StripScene   = "strip"   // of Border on Edge: measure, cut, inner; end (cut across). Of the whole band on Edge: middle, ends. Where it is put together from parts: parts, parts-cut; join, join-trim (diagonal), joined, join-press
	BandScene    = "band"    // the seam between Border and Border+1 on Edge: sew, press
	TestScene    = "test"    // three test strips: sew
	PairScene    = "pair"    // choose: both pairs, Edges is the one sewn first
	EdgeScene    = "edge"    // Edge sewn to the center, Second when the first pair's tails are folded away: pin, sew, check, press
	CornerScene  = "corner"  // Corner: fold, turn, line (equal bands), line-sides, line-topBottom (unequal), match, pin, sew, look, trim, open, behind, front
	TopScene     = "top"     // the bordered top: widths, lengths, diagonals
	CornersScene = "corners" // the four corners with the print of Border as the sheet centers it
)

// A Scene names one drawing of one quilt. Fields that a kind does not use are zero.
type Scene struct {
	Kind   string
	Act    string
	Edge   string // left, right, top, bottom
	Edges  calc.Edges
	Corner int // 1 top left, 2 top right, 3 bottom right, 4 bottom left, as the quilt lies right side up on the table
	Border int // 1 is innermost
	Second bool
	Piece  *Piece // what is cut, where it is not the plan's strip
}

// A Piece is cut to mend a strip: cut, the piece itself; end, the strip trimmed to Long
// or shortened by Off.
type Piece struct{ Wide, Long, Off calc.Figure }

// A Quilt is what every scene of one plan is drawn from.
type Quilt struct {
	Plan  calc.Plan
	Sheet calc.Sheet
}

// Draw is one scene as an SVG element.
func (q Quilt) Draw(s Scene) string {
	p := newPen()
	p.rims = q.hasLines()
	var label string
	switch s.Kind {
	case PlanScene:
		label = q.plan(p)
	case CenterScene:
		label = q.center(p, s)
	case CopingScene:
		label = q.coping(p, s)
	case ClothScene:
		label = q.clothLaid(p, s)
	case StripScene:
		label = q.stripLaid(p, s)
	case BandScene:
		label = q.bandSewn(p, s)
	case TestScene:
		label = q.test(p)
	case PairScene:
		label = q.pair(p, s)
	case EdgeScene:
		label = q.edge(p, s)
	case CornerScene:
		label = q.corner(p, s)
	case TopScene:
		label = q.top(p, s)
	case CornersScene:
		label = q.cornersMet(p, s)
	}
	return p.svg(label)
}
