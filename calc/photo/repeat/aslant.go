package repeat

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"
)

// aslant tells whether a print that repeats along and across lies aslant all the same: a print
// turned by any angle repeats along some line near the strip, if only far apart. Then it lies on
// itself at several places inside of that repeat, off its sides. One such place is a half-drop.
func (p *plane) aslant(a axes, along, across Axis) bool {
	if along.Period == 0 || across.Period == 0 {
		return false
	}
	c := p.turned(newPlane(p.w, p.h, p.ppi), a, false).matches()
	w, h := along.Period*p.ppi, across.Period*p.ppi
	limit := 0.85 * min(c.near(w, 0), c.near(0, h))
	if limit < 0.3 {
		return false
	}
	const border = 0.12 // of the repeat, beside its sides
	inside := 0
	for y := int(border * h); y <= int((1-border)*h); y++ {
		for x := int(border * w); x <= int((1-border)*w); x++ {
			if c.at(x, y) > limit && c.summit(x, y) {
				inside++
			}
		}
	}
	return inside > 1
}

// matches are how well a plane lies on itself moved by so much along and down, normalized for
// what overlaps (Padfield 2012).
type matches struct {
	w, h int
	r    []float64
}

func (m matches) at(x, y int) float64 { return m.r[(y+m.h)%m.h*m.w+(x+m.w)%m.w] }

// near is the best match beside a place.
func (m matches) near(x, y float64) float64 {
	best := -1.0
	for dy := -2; dy <= 2; dy++ {
		for dx := -2; dx <= 2; dx++ {
			best = max(best, m.at(int(x+0.5)+dx, int(y+0.5)+dy))
		}
	}
	return best
}

func (m matches) summit(x, y int) bool {
	v := m.at(x, y)
	for dy := -2; dy <= 2; dy++ {
		for dx := -2; dx <= 2; dx++ {
			if o := m.at(x+dx, y+dy); o > v || (o == v && (dy < 0 || dy == 0 && dx < 0)) {
				return false
			}
		}
	}
	return true
}

func (p *plane) matches() matches {
	m := matches{w: fit(3 * p.w / 2), h: fit(3 * p.h / 2)}
	n := m.w * m.h
	num, count, power := make([]complex128, n), make([]complex128, n), make([]complex128, n)
	g := newGrid(m.w, m.h)
	mask, energy := make([]complex128, n), make([]complex128, n)
	c := make([]complex128, n)
	for k := range 3 {
		clear(c)
		for y := range p.h {
			for x := range p.w {
				if i := y*p.w + x; p.in[i] {
					v := float64(p.ch[k][i])
					c[y*m.w+x] = complex(v, 0)
					mask[y*m.w+x] = 1
					energy[y*m.w+x] += complex(v*v, 0)
				}
			}
		}
		g.forward(c)
		for i, v := range c {
			num[i] += v * cmplx.Conj(v)
		}
	}
	g.forward(mask)
	g.forward(energy)
	for i := range num {
		count[i] = mask[i] * cmplx.Conj(mask[i])
		power[i] = cmplx.Conj(energy[i]) * mask[i]
	}
	g.back(num)
	g.back(count)
	g.back(power)
	m.r = make([]float64, n)
	for y := range m.h {
		for x := range m.w {
			i, j := y*m.w+x, (m.h-y)%m.h*m.w+(m.w-x)%m.w
			both := real(power[i]) * real(power[j])
			if real(count[i]) > 0.1*real(count[0]) && both > 0 {
				m.r[i] = real(num[i]) / math.Sqrt(both)
			}
		}
	}
	return m
}

// A grid is a Fourier transform of rows, then of columns.
type grid struct {
	w, h int
	row  *fourier.CmplxFFT
	col  *fourier.CmplxFFT
	line []complex128
}

func newGrid(w, h int) *grid {
	return &grid{w, h, fourier.NewCmplxFFT(w), fourier.NewCmplxFFT(h), make([]complex128, h)}
}

func (g *grid) forward(c []complex128) { g.both(c, g.row.Coefficients, g.col.Coefficients) }
func (g *grid) back(c []complex128)    { g.both(c, g.row.Sequence, g.col.Sequence) }

func (g *grid) both(c []complex128, row, col func(dst, src []complex128) []complex128) {
	for y := range g.h {
		line := c[y*g.w : (y+1)*g.w]
		row(line, line)
	}
	for x := range g.w {
		for y := range g.h {
			g.line[y] = c[y*g.w+x]
		}
		col(g.line, g.line)
		for y := range g.h {
			c[y*g.w+x] = g.line[y]
		}
	}
}
