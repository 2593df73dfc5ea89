package repeat

import (
	"math"
	"slices"
)

// A mate tells how far the print differs from itself one repeat on, place by place of a repeat.
// The match over all of the print hides a flower that has another color in every other repeat;
// here the place where it stands shows.
type mate struct {
	fine, rough  *plane
	other        float64   // inches of the repeat down the columns, 0: not known
	lo, hi, diff []float32 // room: the neighborhoods of a channel, and squares of all channels
}

// newMate looks at q, or at its profile where the other direction is plain.
func newMate(q *plane, other Axis) *mate {
	if other.Kind == Plain {
		p := q.profile()
		return &mate{fine: p, rough: p}
	}
	m := &mate{fine: q, rough: q.thinned(2, 2)}
	if other.Kind != None && other.Seen >= sureSeen {
		m.other = other.Period
	}
	return m
}

// differs is how much the print differs, one repeat on, at that place of the repeat where it
// does most: a root mean square in steps of 255. At each place of the repeat the median over all
// repeats in view is taken, so that a crease or a shadow in one does not count. ok is false where
// too little overlaps.
func (m *mate) differs(inches float64) (worst float64, ok bool) {
	p := m.rough
	if inches*p.ppi < roughLeast {
		p = m.fine
	}
	lag := inches * p.ppi
	step := int(lag + 0.5)
	if step < 2 || step >= p.w {
		return 0, false
	}
	if n := p.w * p.h; len(m.diff) < n {
		m.lo, m.hi, m.diff = make([]float32, n), make([]float32, n), make([]float32, n)
	}
	reach := min(4, 1+int(0.005*lag))
	high := reach
	if p.h < fewRows { // of a profile: they are no neighbors
		high = 0
	}
	clear(m.diff)
	for k := range 3 {
		p.neighborhoods(p.ch[k], m.lo, m.hi, reach, high)
		for y := range p.h {
			row := y * p.w
			for x := row; x < row+p.w-step; x++ {
				f, g := p.ch[k][x], p.ch[k][x+step]
				d := max(f-m.hi[x+step], m.lo[x+step]-f, g-m.hi[x], m.lo[x]-g, 0)
				m.diff[x] += d * d
			}
		}
	}
	return m.fold(p, lag, step)
}

const (
	roughLeast = 14 // pixels of a repeat that is looked at in the rough
	fewRows    = 24
)

// fold gathers the differences by their place in the repeat.
func (m *mate) fold(p *plane, lag float64, step int) (float64, bool) {
	block := max(2, min(0.18*p.ppi, lag/6))
	columns := max(1, int(lag/block))
	times := int(float64(p.w-step)/lag) + 1
	high, down, rows := block, 1, int(float64(p.h)/block)+1
	other := m.other * p.ppi
	switch {
	case p.h < fewRows:
		high, rows = 1, p.h
	case other > 0:
		rows = max(1, int(other/block))
		high = other / float64(rows)
		down = int(float64(p.h)/other) + 1
	}
	type cell struct{ sum, n float32 }
	cells := make([]cell, columns*rows*times*down)
	at := func(column, row, time, level int) *cell {
		return &cells[((row*columns+column)*down+level)*times+time]
	}
	for y := range p.h {
		level, in := 0, float64(y)
		if down > 1 {
			level = int(in / other)
			in -= float64(level) * other
		}
		row := min(rows-1, int(in/high))
		for x := range p.w - step {
			i := y*p.w + x
			if !p.in[i] || !p.in[i+step] {
				continue
			}
			time := int(float64(x) / lag)
			column := min(columns-1, int((float64(x)-float64(time)*lag)/lag*float64(columns)))
			c := at(column, row, time, level)
			c.sum += m.diff[i]
			c.n++
		}
	}
	least := float32(max(1, 0.4*block*high))
	var worst float32
	filled := 0
	seen := make([]float32, 0, times*down)
	for i := range columns * rows {
		seen = seen[:0]
		for _, c := range cells[i*down*times : (i+1)*down*times] {
			if c.n >= least {
				seen = append(seen, c.sum/c.n)
			}
		}
		if len(seen) == 0 {
			continue
		}
		filled++
		slices.Sort(seen)
		worst = max(worst, seen[(len(seen)-1)/2])
	}
	return math.Sqrt(float64(worst)), 4*filled >= 3*columns*min(rows, max(1, rows*3/4))
}

// neighborhoods are the least and the most of a channel within reach of each pixel, along and
// down.
func (p *plane) neighborhoods(c, lo, hi []float32, along, down int) {
	for y := range p.h {
		row := y * p.w
		for x := range p.w {
			l, h := c[row+x], c[row+x]
			for d := max(0, x-along); d <= min(p.w-1, x+along); d++ {
				if p.in[row+d] {
					l, h = min(l, c[row+d]), max(h, c[row+d])
				}
			}
			lo[row+x], hi[row+x] = l, h
		}
	}
	if down == 0 {
		return
	}
	above, below := make([]float32, p.h), make([]float32, p.h)
	for x := range p.w {
		for y := range p.h {
			above[y], below[y] = lo[y*p.w+x], hi[y*p.w+x]
		}
		for y := range p.h {
			if !p.in[y*p.w+x] {
				continue
			}
			l, h := above[y], below[y]
			for d := max(0, y-down); d <= min(p.h-1, y+down); d++ {
				if p.in[d*p.w+x] {
					l, h = min(l, above[d]), max(h, below[d])
				}
			}
			lo[y*p.w+x], hi[y*p.w+x] = l, h
		}
	}
}

// profile is the plane with its rows gathered into a few: what stripes are made of.
func (p *plane) profile() *plane { return p.thinned(1, max(1, p.h/6)) }
