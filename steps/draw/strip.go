package draw

import (
	"fmt"
	"math"
)

func ceil(x float64) float64 { return math.Ceil(x - 1e-9) }

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
	c := q.closeUp(q.liesUpright(s), strip)
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
	return fmt.Sprintf("The %s %s, %s long and %s wide, measured and chalked on its fabric%s", s.Edge, strip.name, strip.long.Shown(), strip.wide.Shown(), c.lies())
}

// lies says how the strip lies.
func (c closeUp) lies() string {
	if c.up {
		return ", its inner edge left"
	}
	return ", its inner edge at the top"
}

// words name the strip and its two sizes, each beside what it measures.
func (c closeUp) words(p *pen, edge string, strip cutStrip, more ...word) {
	end, m := c.long/2, closeMargin/c.close.scale()
	long, wide := strip.long.Shown()+" long", strip.wide.Shown()+" wide"
	if strip.count > 1 {
		long = fmt.Sprintf("%d × %s", strip.count, long)
	}
	if c.up {
		x := c.whole.e - 26
		p.dim(pt{x, c.whole.at(0, -end).y}, pt{x, c.whole.at(0, end).y})
		lines := append([]word{{"t", edge + " strip"}, {"tn", long}}, more...)
		p.words(pt{c.whole.at(c.wide, 0).x + 30, 12 + 24*float64(len(lines))}, after, lines...)
		a, b := pt{c.close.at(0, 0).x, 428}, pt{c.close.at(c.wide, 0).x, 428}
		p.dim(a, b)
		p.text("tn", pt{a.to(b, 0.5).x, 464}, amid, wide)
		return
	}
	y := c.whole.f - 22
	p.dim(pt{c.whole.at(-end, 0).x, y}, pt{c.whole.at(end, 0).x, y})
	p.text("t", pt{24, 28}, after, edge)
	p.text("tn", pt{width - 24, 28}, before, long)
	x := c.close.at(end+m, 0).x + 14
	p.dim(pt{x, c.close.at(0, 0).y}, pt{x, c.close.at(0, c.wide).y})
	p.text("tn", pt{width - 24, 466}, before, wide)
}
