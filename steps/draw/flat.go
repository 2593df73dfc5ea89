package draw

import "cornerwise/calc"

// Strips lie on their fabric as the cutting page lays them, right side up: along the selvage
// with the inner edge left, across the fabric with the inner edge at the top. The table's
// places count from the strip's inner edge and its middle: where it is upright, x from the
// inner edge and y from the middle, down; where it is level, x from the middle and y down
// from the inner edge. The strip's own places are x along it and y outward from its inner edge.

// flat is the frame from a strip's own places to the table's.
func (q Quilt) flat(edge string, up bool) frame {
	way := 1.0
	if q.on(edge).mirrors() {
		way = -1
	}
	if up {
		return frame{0, -way, 1, 0, 0, 0}
	}
	return frame{way, 0, 0, 1, 0, 0}
}

// layStrip lays what of a strip lies in an outline, which is in the strip's own places.
func (q Quilt) layStrip(p *pen, border int, edge string, f frame, outline []pt) {
	own := q.on(edge).of(move(0, q.seams(edgesOf(edge))[border-1]-q.seam()))
	q.layOne(p, layer{part: edge, border: border, at: f.of(inverse(own)), outline: own.all(outline)})
}

// liesUpright tells whether the strip of a scene lies upright on the cutting page.
func (q Quilt) liesUpright(s Scene) bool {
	if s.Kind == CopingScene {
		return q.Sheet.Coping.Fabric.Pick != "crosswise"
	}
	way, lengthwise := q.wayOf(s.Border - 1)
	if way == nil { // it fits no fabric: as the plan wants it
		return q.Plan.Borders[s.Border-1].Fabric.Runs != "crosswise"
	}
	return lengthwise
}

// joinsOf are the joins of the strip of a scene, first to last.
func (q Quilt) joinsOf(s Scene) []join {
	if s.Kind == CopingScene {
		q, s.Border = q.copingAsBorder(), 1
	}
	i := s.Border - 1
	one := q.joinOf(i, s.Edge)
	at := -in(q.strip(i, edgesOf(s.Edge)).CutLength.Length) / 2
	var joins []join
	parts := q.partsOf(i, s.Edge)
	for n, part := range parts {
		if n == len(parts)-1 {
			break
		}
		at += in(part.Width.Length) - one.loss()/2 // the seam lies in the middle of what both ends lose
		one.at = at
		joins = append(joins, one)
		at -= one.loss() / 2
	}
	return joins
}

// seamsOf draws the seams of joins on a strip that lies level, right side up, from so far
// right of its middle on.
func (p *pen) seamsOf(joins []join, f frame, from float64) {
	for _, j := range joins {
		if j.at-j.lean() < from {
			continue
		}
		p.line("seam", f.at(j.at-j.lean(), 0), f.at(j.at+j.lean(), j.wide))
	}
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

// onTable is a box of the table's places: along a strip and across it, from its inner edge.
func onTable(up bool, from, to, inner, outer float64) box {
	if up {
		return box{inner, from, outer, to}
	}
	return box{from, inner, to, outer}
}

// A closeUp is a strip on the table in little, and one end of it close by: the lower one where
// it is upright, the right one where it is level.
type closeUp struct {
	up           bool
	long, wide   float64
	whole, close frame
	far          float64 // how much of the strip, from its end, is seen close by
}

// placed is a point so far along from the strip's middle and so far from its inner edge.
func (c closeUp) placed(f frame, along, across float64) pt {
	if c.up {
		return f.at(across, along)
	}
	return f.at(along, across)
}

const closeMargin = 26.0 // around the end close by

func (q Quilt) closeUp(up bool, strip cutStrip) closeUp {
	c := closeUp{up: up, long: in(strip.long.Length), wide: in(strip.wide.Length)}
	if up {
		k := min(440/c.long, 100/c.wide)
		c.whole = frame{k, 0, 0, k, 52, height / 2}
		left := 52 + c.wide*k + 50 // of the room
		kd := min(210/c.wide, (width-left-90)/c.wide)
		c.far = min(252/kd, c.long)
		c.close = frame{kd, 0, 0, kd, left + (width-left-c.wide*kd)/2, 388 - kd*c.long/2}
		return c
	}
	k := min(540/c.long, 96/c.wide)
	c.whole = frame{k, 0, 0, k, width / 2, 88}
	top := 88 + c.wide*k + 44
	kd := min(200/c.wide, (height-top-84)/c.wide)
	c.far = min(500/kd, c.long)
	c.close = frame{kd, 0, 0, kd, 540 - kd*c.long/2, top + (height-top-84-c.wide*kd)/2}
	return c
}

// leaders join what is seen close by to where it lies on the strip.
func (c closeUp) leaders(p *pen) {
	end := c.long / 2
	if c.up {
		for _, at := range []float64{end - c.far, end} {
			p.line("leader", c.placed(c.whole, at, c.wide), c.placed(c.close, at, 0))
		}
		return
	}
	p.shape("leader", c.placed(c.whole, end, c.wide), c.placed(c.close, end, c.wide), c.placed(c.close, end, 0), c.placed(c.whole, end, 0))
}

// thinChalk is the class of a chalk line round a strip, so that it does not hide a narrow one.
func thinChalk(wide float64) string {
	if wide < 30 {
		return "dim"
	}
	return "chalk"
}

// torn ends the picture close by, as the strip goes on.
func (c closeUp) torn(p *pen, beyond float64) {
	if c.far >= c.long {
		return
	}
	at := c.long/2 - c.far + 8/c.close.scale()
	a, b := c.placed(c.close, at, -beyond), c.placed(c.close, at, c.wide+beyond)
	if !c.up {
		a, b = b, a
	}
	p.torn(a, b)
}
