package flat

import (
	"math"

	"cornerwise/calc/photo/picture"
)

// An edge is where one side of the sheet was seen to end, near its chord.
type edge struct {
	from, dir, in Pt
	length        float64
	seen          []Pt
}

func findEdges(photo *picture.Raster, q Quad, reach float64) (edges [4]edge, share float64) {
	var mid Pt
	for _, p := range q {
		mid.X, mid.Y = mid.X+p.X/4, mid.Y+p.Y/4
	}
	share = 1
	for i := range 4 {
		e, s := fitEdge(photo, q[i], q[(i+1)%4], mid, reach)
		edges[i] = e
		share = min(share, s)
	}
	return edges, share
}

// bow is how far an edge's middle lies off its ends, in pixels, without the lens.
func (e edge) bow(k, w, h float64) float64 {
	ts, offs := e.off(k, w, h)
	_, _, c := parabola(ts, offs)
	return c / 4
}

func (e edge) off(k, w, h float64) (ts, offs []float64) {
	ts, offs = make([]float64, 0, len(e.seen)), make([]float64, 0, len(e.seen))
	for _, p := range e.seen {
		q := unbend(p, k, w, h)
		x, y := q.X-e.from.X, q.Y-e.from.Y
		ts = append(ts, (x*e.dir.X+y*e.dir.Y)/e.length)
		offs = append(offs, x*e.in.X+y*e.in.Y)
	}
	return ts, offs
}

// line is the straight line through the edge, without the lens.
func (e edge) line(k float64, v View) [2]Pt {
	ts, offs := e.off(k, v.w, v.h)
	var n, t, tt, o, to float64
	for i := range ts {
		n, t, tt, o, to = n+1, t+ts[i], tt+ts[i]*ts[i], o+offs[i], to+ts[i]*offs[i]
	}
	b := (n*to - t*o) / (n*tt - t*t)
	a := (o - b*t) / n
	place := func(s float64) Pt {
		off := a + b*s
		return Pt{e.from.X + e.dir.X*e.length*s + e.in.X*off, e.from.Y + e.dir.Y*e.length*s + e.in.Y*off}
	}
	return [2]Pt{place(0), place(1)}
}

// fitEdge looks across the chord for the place where the sheet's own color ends.
func fitEdge(photo *picture.Raster, a, b, mid Pt, reach float64) (edge, float64) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	e := edge{from: a, dir: Pt{(b.X - a.X) / l, (b.Y - a.Y) / l}, length: l}
	e.in = Pt{-e.dir.Y, e.dir.X}
	if (mid.X-a.X)*e.in.X+(mid.Y-a.Y)*e.in.Y < 0 {
		e.in = Pt{e.dir.Y, -e.dir.X}
	}
	n := int(min(160, max(30, l/6)))
	var ts, offs []float64
	for i := range n {
		t := 0.06 + 0.88*float64(i)/float64(n-1)
		foot := Pt{a.X + e.dir.X*l*t, a.Y + e.dir.Y*l*t}
		if off, ok := sheetEnds(photo, foot, e.in, reach); ok {
			ts, offs = append(ts, t), append(offs, off)
		}
	}
	keep := agree(ts, offs, max(1.2, l/500))
	for _, k := range keep {
		along, off := l*ts[k], offs[k]
		e.seen = append(e.seen, Pt{a.X + e.dir.X*along + e.in.X*off, a.Y + e.dir.Y*along + e.in.Y*off})
	}
	if len(keep) < 10 {
		return e, 0
	}
	return e, float64(len(keep)) / float64(n)
}

// sheetEnds walks from inside the sheet outwards and tells where its color ends.
func sheetEnds(photo *picture.Raster, foot, in Pt, reach float64) (float64, bool) {
	const step = 0.5
	inner := reach + 8
	at := func(s float64) ([3]float64, bool) { return photo.At(foot.X+in.X*s, foot.Y+in.Y*s) }
	var sum, sq [3]float64
	n := 0.0
	for s := reach + 1; s <= inner; s += step {
		c, ok := at(s)
		if !ok {
			return 0, false
		}
		for k := range 3 {
			sum[k] += c[k]
			sq[k] += c[k] * c[k]
		}
		n++
	}
	var paper [3]float64
	noise := 0.0
	for k := range 3 {
		paper[k] = sum[k] / n
		noise += max(0, sq[k]/n-paper[k]*paper[k])
	}
	limit := max(22, 5*math.Sqrt(noise))
	away := func(s float64) float64 {
		c, ok := at(s)
		if !ok {
			return -1
		}
		return math.Sqrt(sq2(c[0]-paper[0]) + sq2(c[1]-paper[1]) + sq2(c[2]-paper[2]))
	}
	for s := reach; s >= -reach; s -= step {
		d := away(s)
		if d < 0 {
			return 0, false
		}
		if d < limit {
			continue
		}
		// The edge is where half of the way to the fabric's color is done.
		fabric := 0.0
		for _, o := range []float64{1.5, 2, 2.5} {
			fabric = max(fabric, away(s-o))
		}
		for x := s + 2; x >= s-3; x -= 0.1 {
			if away(x) >= fabric/2 {
				return x, true
			}
		}
		return 0, false
	}
	return 0, false
}
