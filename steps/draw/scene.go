// Package draw makes the drawings, to scale from the plan's own numbers: right side in its
// stripe, wrong side hatched, raw edges solid, folds dotted, stitches dashed in thread red, what
// is drawn now in chalk blue, a dot where a seam starts and stops.
//
// A row of the procedure names its picture by kind and act, and Check refuses what has none:
// check.go has the acts of each kind, and a kind is drawn in a file of its own (center.go,
// strip.go, corner.go and so on). TestEveryTickHasAPictureOfItsOwn draws every tick of every plan.
//
// # Pieces and sides
//
// Fabric of the quilt is laid in layers (layer.go), each by a frame from the quilt's own places
// to the drawing's. A frame that turns shows the right side, one that mirrors the wrong side, so
// that no picture can show a side that would not be seen. The quilt is turned over like a page,
// left for right, and only so. truth_test.go and sewn_test.go hold each act to what a piece of
// striped paper does: their sides, seams that are shared, folds, and the words about them.
//
// # At the machine and under the ruler
//
// What is sewn is drawn as it lies at the machine: the quilt left of the needle, the raw edges
// right of it, the seam running toward the person, down in the picture; the needle and the foot
// point down. What is cut is drawn as the hand cuts it: the ruler on what is kept, the blade along
// its right edge, away from the person. For a left hand that picture is turned by a half and the
// blade goes along the ruler's left edge (forHand in pen.go); nothing is mirrored, as fabric can't
// be. All else lies as it lies on the table, for both hands.
//
// # Paper
//
// A layout for paper (layoutpage.go) is as high as its page leaves room for, and its names are as
// large as their strips are deep. The corner card (card.go) is in tenths of a millimeter and says
// its size: what it shows measures true, and what has no room is left out, never made smaller.
//
// # Colors
//
// All colors are in static/drawing.css, but for a stripe's own: these are fill attributes in the
// patterns. The pages' policy forbids inline styles, not attributes. A color near the paper of
// the light or the dark look gets a rim that shows in that look only (stripe.go). Where a plan
// has such colors, thread and chalk lie on a rim of paper, so that they are seen on any of them.
//
// # Prints
//
// A print is drawn with a motif on the middle of the strip, and slid by half a repeat where a gap
// is to lie there. So one set of patterns (Defs) serves all four centerings (corners.go).
package draw

import "cornerwise/calc"

// The kinds of scene. check.go has the acts of each.
const (
	PlanScene    = "plan"    // the bordered top with its borders, miters and sizes
	CenterScene  = "center"  // the quilt center alone
	CopingScene  = "coping"  // the two coping strips on Edges of the pieced center
	FabricScene  = "fabric"  // the fabric of Border
	StripScene   = "strip"   // of Border on Edge; for its marks, the whole band on Edge
	BandScene    = "band"    // the seam between Border and Border+1 on Edge
	MachineScene = "machine" // the sewing machine's foot, needle and guide
	TestScene    = "test"    // three test strips
	PairScene    = "pair"    // both pairs; Edges is the one sewn first
	EdgeScene    = "edge"    // Edge sewn to the center, Second when the first tails are folded away
	CornerScene  = "corner"  // one corner, mitered
	TopScene     = "top"     // the bordered top
	CornersScene = "corners" // the four corners with the print of Border as the sheet centers it
)

// A Scene names one drawing of one quilt. Fields that a kind does not use are zero.
type Scene struct {
	Kind   string
	Act    string
	Edge   string // left, right, top, bottom
	Edges  calc.Edges
	Corner int // 1 to 4, clockwise from the top left, as the quilt lies right side up
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

	Tiles []Tile // of each border, innermost first; those that have none are zero, or missing

	LeftHand bool // the hand that cuts

	coped bool // its border is the coping strips
}

// Draw is one scene as an SVG element. What Check refuses is drawn as words.
func (q Quilt) Draw(s Scene) string {
	p := newPen()
	return p.svg(q.drawOn(p, s))
}

// drawOn draws a scene, and says it in words.
func (q Quilt) drawOn(p *pen, s Scene) (label string) {
	if q.Check(s) != nil {
		p.text("t", pt{width / 2, height / 2}, amid, "no picture")
		return "There is no picture of this step"
	}
	p.rims = q.hasLines()
	switch s.Kind {
	case PlanScene:
		label = q.plan(p)
	case CenterScene:
		label = q.center(p, s)
	case CopingScene:
		label = q.coping(p, s)
	case FabricScene:
		label = q.fabricLaid(p, s)
	case StripScene:
		label = q.stripLaid(p, s)
	case BandScene:
		label = q.bandSewn(p, s)
	case MachineScene:
		label = q.machine(p)
	case TestScene:
		label = q.test(p, s)
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
	return label
}
