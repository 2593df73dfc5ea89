package draw

import "fmt"

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

func newCloseUp(up bool, strip cutStrip) closeUp {
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

// lies says how the strip lies.
func (c closeUp) lies(s Scene) string {
	switch {
	case s.Kind == CopingScene: // it has no inner edge
		return ""
	case c.up:
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
