package draw

import (
	"fmt"

	"cornerwise/calc"
)

// upright tells whether an edge runs up and down on the table.
func upright(edge string) bool { return edge == "left" || edge == "right" }

// lay is the frame of a strip drawn as the top one lies, or as the right one:
// x along it, y outward from the point at base.
func lay(edge string, middle, base, k float64) frame {
	if upright(edge) {
		return frame{0, k, k, 0, base, middle}
	}
	return frame{k, 0, 0, -k, middle, base}
}

// onEdge mirrors what is drawn as the top or the right one for its edge.
func (p *pen) onEdge(edge string) { p.mirrored(edge == "left", edge == "bottom") }

func (q Quilt) stripLaid(p *pen, s Scene) string {
	switch s.Act {
	case "parts", "parts-cut":
		return q.stripParts(p, s)
	case "join-line", "join", "join-trim", "joined", "join-press":
		return q.stripJoined(p, s)
	case "middle", "middle-found", "ends": // at its place on the quilt
		p.onEdge(s.Edge)
		return q.bandMarked(p, s)
	}
	strip := q.stripOf(p, s)
	switch s.Act {
	case "place", "print-middle":
		return q.stripPlaced(p, s, strip)
	case "checked":
		return q.stripChecked(p, s, strip)
	}
	return q.stripCut(p, s, strip)
}

// A cutStrip is a strip as it is cut; fabric fills an outline with it, in a frame that counts x
// from its middle and y from its inner raw edge: its right side, or its wrong side where the
// frame mirrors the strip.
type cutStrip struct {
	name       string
	long, wide calc.Figure
	count      int         // how many such are cut, where they are parts of one
	off        calc.Figure // that an end is shortened by; of no length where it is cut to long
	fabric     func(f frame, outline []pt)
}

// lie draws what of the strip lies in a box of the table's places; flat is how it lies.
func (c cutStrip) lie(flat, f frame, b box) {
	c.fabric(f.of(flat), inverse(flat).all(b.corners()))
}

// turned is how a strip lies once it is turned over like a page: its inner edge right where it
// is upright, still at the top where it is level.
func (c cutStrip) turned(flat frame, up bool) frame {
	flat = likePage.of(flat)
	if up {
		flat = move(in(c.wide.Length), 0).of(flat)
	}
	return flat
}

// stripOf is the plan's strip of a scene, or the piece that mends it.
func (q Quilt) stripOf(p *pen, s Scene) cutStrip {
	strip := q.strip(s.Border-1, edgesOf(s.Edge))
	cut := cutStrip{
		name: "strip of " + strip.Name, long: strip.CutLength, wide: strip.CutWidth,
		fabric: func(f frame, outline []pt) { q.layStrip(p, s.Border, s.Edge, f, outline) },
	}
	if s.Piece != nil {
		cut.long, cut.wide, cut.off = s.Piece.Long, s.Piece.Wide, s.Piece.Off
		if s.Act == "cut" {
			cut.name = "strip's piece of " + strip.Name
		}
	}
	return cut
}

// stripCut is a strip that is measured, cut, or marked once it is cut.
func (q Quilt) stripCut(p *pen, s Scene, strip cutStrip) string {
	p.mirrored(false, false) // it lies on its fabric, and the hand is the same for all edges
	joined := s.Piece == nil && len(q.joinsOf(s)) > 0
	switch {
	case s.Act == "end", s.Act == "cut" && joined:
		return q.endCut(p, s, strip)
	case s.Act == "cut":
		return q.edgeCut(p, s, strip)
	case s.Act == "inner":
		return q.innerMarked(p, s, strip)
	case joined:
		return q.stripChecked(p, s, strip)
	}
	return q.stripMeasured(p, s, strip)
}

// stripMeasured is a strip chalked on its fabric, whole and one end of it close by.
func (q Quilt) stripMeasured(p *pen, s Scene, strip cutStrip) string {
	c := newCloseUp(q.liesUpright(s), strip)
	flat := q.flat(s.Edge, c.up)
	end := c.long / 2
	w, m := min(12/c.whole.scale(), c.wide), closeMargin/c.close.scale()
	strip.lie(flat, c.whole, onTable(c.up, -end-w, end+w, -w, c.wide+w))
	p.shape(thinChalk(c.wide*c.whole.scale())+" open", c.whole.all(onTable(c.up, -end, end, 0, c.wide).corners())...)
	c.leaders(p)
	strip.lie(flat, c.close, onTable(c.up, end-c.far, end+m, -m, c.wide+m))
	p.line("chalk", c.placed(c.close, end-c.far, 0), c.placed(c.close, end, 0), c.placed(c.close, end, c.wide), c.placed(c.close, end-c.far, c.wide))
	c.torn(p, m)
	c.words(p, s.Edge, strip)
	return fmt.Sprintf("The %s %s, %s long and %s wide, measured and chalked on its fabric%s", s.Edge, strip.name, strip.long.Shown(), strip.wide.Shown(), c.lies(s))
}
