package draw

// A layer is one piece of fabric where it lies. Its frame maps the quilt's own places, inches
// from the middle of the center as the quilt lies right side up, to the drawing's. A frame that
// turns shows the right side; one that mirrors shows the wrong side. Nothing else says which
// side is up, so that no drawing can show a side that would not be seen.
type layer struct {
	part    string // center, or the edge of a band: left, right, top, bottom
	border  int    // that a single strip is of, 1 is innermost; 0: the whole band
	at      frame
	outline []pt // what of it is drawn, in the quilt's places
	loupe   int  // the round window that it lies in, counted from 1; 0: none
}

// wrong tells whether the layer lies wrong side up.
func (l layer) wrong() bool { return l.at.mirrors() }

// mirrors tells whether a frame mirrors: what it maps is seen from behind.
func (f frame) mirrors() bool { return f.a*f.d-f.b*f.c < 0 }

// likePage turns the quilt over as one turns a page: left for right.
var likePage = frame{-1, 0, 0, 1, 0, 0}

// turnedOver is the frame that turns over what lies on the line through a point along d.
func turnedOver(at, d pt) frame {
	return move(at.x, at.y).of(mirror(d)).of(move(-at.x, -at.y))
}

// lay draws a layer, on all that lies there already: in its stripe or its patchwork where its
// right side is up, hatched where its wrong side is.
func (q Quilt) lay(p *pen, part string, at frame, outline []pt) {
	q.layOne(p, layer{part: part, at: at, outline: outline})
}

// layIn lays what of a layer lies in a room of the drawing.
func (q Quilt) layIn(p *pen, room box, part string, at frame, outline []pt) {
	q.lay(p, part, at, inverse(at).all(room.in(at.all(outline))))
}

// lineIn draws what of a line lies in a room of the drawing, or on its rim.
func (p *pen) lineIn(class string, room box, points ...pt) {
	const near = 0.5
	room = box{room.left - near, room.top - near, room.right + near, room.bottom + near}
	var ends []pt
	for i := 1; i < len(points); i++ {
		if a, b, ok := room.line(points[i-1], points[i]); ok && b.minus(a).long() > 2*near {
			ends = append(ends, a, b)
		}
	}
	p.lines(class, ends...)
}

func (q Quilt) layOne(p *pen, l layer) {
	if len(l.outline) < 3 {
		return
	}
	on := l
	on.at, on.loupe = p.on.of(l.at), p.loupe
	p.layers = append(p.layers, on)
	switch wrong := on.wrong(); {
	case l.part == "center" && wrong:
		p.shape("wrongcenter", l.at.all(l.outline)...)
		q.copingBehind(p, l.at, l.outline)
	case l.part == "center":
		q.patch(p, l.at, l.outline)
	case wrong:
		p.shape("wrong", l.at.all(l.outline)...)
		if l.border == 0 {
			q.bandBehind(p, l)
		}
	default:
		e, strip := edgesOf(l.part), q.on(l.part)
		f, outline := l.at.of(strip), inverse(strip).all(l.outline)
		if l.border == 0 {
			q.bandFabric(p, e, f, outline)
			return
		}
		up := q.seams(e)[l.border-1] - q.seam() // the strip's inner raw edge
		q.fabric(p, l.border-1, e, f.of(move(0, up)), move(0, -up).all(outline))
	}
}

// bandOutline is the whole band on an edge, raw edge to raw edge, in the quilt's places.
func (q Quilt) bandOutline(edge string) []pt {
	e := edgesOf(edge)
	half := q.half(e)
	return q.on(edge).all(box{-half, -q.seam(), half, q.band(e) + q.seam()}.corners())
}

// FoldedOver are the edges of the strips that meet at a corner, 1 to 4: the one that is folded
// over, and the one that lies beneath it. Folded so, the allowance of the miter lies right of
// the needle.
func FoldedOver(corner int) (over, under string) {
	around := []string{"left", "top", "right", "bottom"}
	return around[corner-1], around[corner%4]
}
