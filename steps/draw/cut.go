package draw

import "fmt"

// Whoever cuts lays the ruler on what is kept, its right edge on the line to be cut, with
// the fingers behind that edge, and cuts upward along it: what is cut off lies at the right.
// So fabric is turned for each cut, and by a half more for a left hand (forHand).

// cutUp is a ruler with its edge on the line to be cut, from below to above it, so wide, and
// the blade on that line.
func (p *pen) cutUp(x, low, high, wide, every float64) {
	p.ruler(pt{x, low}, pt{x, high}, wide, every)
	p.blade(pt{x, low}, pt{x, high})
}

// edgeCut is the cut along a strip's outer edge, the fabric turned so that the strip is
// upright, its inner edge left. The ruler's own line lies on that, so that one reads the width.
func (q Quilt) edgeCut(p *pen, s Scene, strip cutStrip) string {
	p.forHand(q)
	const low, most = 396.0, 75.0 // where the room ends below, and how much is seen of the rest of the fabric
	upTo, say := 128.0, ""
	by := [2]string{"its inner edge", "its outer edge"}
	if s.Kind == CopingScene { // it has no inner edge
		by = [2]string{"one edge", "the other"}
	}
	var turned []word
	if !q.liesUpright(s) {
		upTo, say = 176, ", the fabric turned by a quarter"
		turned = []word{{"ts", "fabric turned"}}
	}
	c := newCloseUp(true, strip)
	flat, end := q.flat(s.Edge, true), c.long/2
	strip.lie(flat, c.whole, onTable(true, -end, end, 0, c.wide))
	p.shape("raw", c.whole.all(onTable(true, -end, end, 0, c.wide).corners())...)

	// Close by is the middle of the strip, with the rest of the fabric beside it.
	f := c.close
	k := f.scale()
	f.f = (upTo + low) / 2
	half := (low - upTo) / 2 / k
	rest := most / k
	f.e -= max(0, f.at(c.wide+rest, 0).x-(width-24))
	inner := 0.0
	if s.Kind == StripScene && q.Plan.Borders[s.Border-1].Stripe.Sign() > 0 {
		inner = -closeMargin / k // before the line that the strip starts on
	}
	strip.lie(flat, f, box{inner, -half, c.wide + rest, half})
	if inner < 0 {
		p.line("chalk", f.at(0, half), f.at(0, -half))
	} else {
		p.line("raw", f.at(0, half), f.at(0, -half))
	}
	p.torn(f.at(inner, -half).plus(pt{-12, 8}), f.at(c.wide+rest, -half).plus(pt{12, 8}))
	p.torn(f.at(c.wide+rest, half).plus(pt{12, -8}), f.at(inner, half).plus(pt{-12, -8}))
	p.torn(f.at(c.wide+rest, -half).plus(pt{-8, -12}), f.at(c.wide+rest, half).plus(pt{-8, 12}))
	edge := f.at(c.wide, 0).x
	p.cutUp(edge, low+8, upTo-8, c.wide*k+34, q.rulerStep(k))
	p.lines("rulerline", pt{f.at(0, 0).x, low + 8}, pt{f.at(0, 0).x, upTo - 8})
	c.close = f
	c.words(p, s.Edge, strip, turned...)
	return fmt.Sprintf("The %s %s, %s long and %s wide%s: the ruler on it, a line of the ruler on %s, the blade away from you along %s", s.Edge, strip.name, strip.long.Shown(), strip.wide.Shown(), say, by[0], by[1])
}

// endCut is the cut across a strip's end: the strip lies level, what comes off at the right.
// A joined strip has its joins.
func (q Quilt) endCut(p *pen, s Scene, strip cutStrip) string {
	p.forHand(q)
	c := newCloseUp(false, strip)
	flat, end := q.flat(s.Edge, false), c.long/2
	var joins []join
	if s.Piece == nil || s.Piece.Off.Length.Sign() > 0 {
		joins = q.joinsOf(s)
	}
	said, beyond := strip.long.Shown()+" long", c.wide
	size := fmt.Sprintf("%s and %s wide", said, strip.wide.Shown())
	if strip.off.Length.Sign() > 0 {
		said, beyond = strip.off.Shown()+" off", in(strip.off.Length)
		size = said
	}
	if n := len(joins); n > 0 { // close enough for the last join to be seen
		j := joins[n-1]
		k := clamp(330/(end-j.at+j.lean()), 28/c.wide, c.close.scale())
		c.close = frame{k, 0, 0, k, 0, 0}
	}
	k := c.close.scale()
	const edge = 430.0
	c.close.e, c.close.f = edge-end*k, 306-c.wide*k/2
	c.far = min((edge-30)/k, c.long)
	for _, at := range []struct {
		f          frame
		left, over float64
	}{
		{c.whole, -end, min(beyond, 16/c.whole.scale())},
		{c.close, end - c.far, min(beyond, 70/k)},
	} {
		strip.lie(flat, at.f, box{at.left, 0, end + at.over, c.wide})
		p.shape("ghostfill", at.f.all(box{end, 0, end + at.over, c.wide}.corners())...)
		p.seamsOf(joins, at.f, at.left)
		p.line("rawthin", at.f.at(end, 0), at.f.at(end+at.over, 0), at.f.at(end+at.over, c.wide), at.f.at(end, c.wide))
		if at.f == c.whole {
			p.shape("raw", at.f.all(box{-end, 0, end, c.wide}.corners())...)
			continue
		}
		p.lines("raw", at.f.at(at.left, 0), at.f.at(end, 0), at.f.at(at.left, c.wide), at.f.at(end, c.wide))
	}
	c.torn(p, 12/k)
	low, high := c.close.at(0, c.wide).y+36, c.close.at(0, 0).y-36
	p.cutUp(edge, low, high, 84, q.rulerStep(k))
	y := c.close.at(0, c.wide).y // a line of the ruler lies on the strip's edge
	p.lines("rulerline", pt{edge - 84, y}, pt{edge, y})
	p.text("t", pt{24, 28}, after, s.Edge)
	p.text("tn", pt{width - 24, 28}, before, said)
	say := ""
	switch {
	case q.liesUpright(s): // on its fabric
		p.text("ts", pt{24, 466}, after, "strip turned")
		say = ", the strip turned by a quarter"
	case len(joins) == 0 || s.Piece != nil:
	case s.Kind == StripScene && q.Plan.Borders[s.Border-1].Motif.Sign() > 0: // it was placed on the print
		p.text("t", pt{24, 466}, after, "both ends")
		say = ", both ends"
	default:
		p.text("t", pt{24, 466}, after, "only what is over")
		say = ", only what is over"
	}
	what := strip.name
	if len(joins) > 0 {
		what += ", joined"
	}
	return fmt.Sprintf("The %s %s, cut across its end: %s%s; the ruler on what is kept, the blade away from you", s.Edge, what, size, say)
}
