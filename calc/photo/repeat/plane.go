package repeat

import "math"

// A plane is fabric with its light evened out: brightness and two colors with their
// mean taken away, and which pixels are of fabric.
type plane struct {
	w, h int
	ppi  float64
	ch   [3][]float32
	in   []bool
}

// axes are the directions of the print: (cos u, sin u) along, (-sin v, cos v) across.
type axes struct{ u, v float64 }

// turned is the plane drawn along its print, about its middle.
func (p *plane) turned(a axes) *plane {
	q := &plane{w: p.w, h: p.h, ppi: p.ppi, in: make([]bool, p.w*p.h)}
	for k := range q.ch {
		q.ch[k] = make([]float32, p.w*p.h)
	}
	cu, su, cv, sv := math.Cos(a.u), math.Sin(a.u), math.Cos(a.v), math.Sin(a.v)
	mx, my := float64(p.w)/2, float64(p.h)/2
	for y := range p.h {
		for x := range p.w {
			du, dv := float64(x)-mx, float64(y)-my
			sx, sy := mx+du*cu-dv*sv, my+du*su+dv*cv
			if sx < 0 || sy < 0 || sx >= float64(p.w-1) || sy >= float64(p.h-1) {
				continue
			}
			x0, y0 := int(sx), int(sy)
			i, j := y0*p.w+x0, y*p.w+x
			if !p.in[i] || !p.in[i+1] || !p.in[i+p.w] || !p.in[i+p.w+1] {
				continue
			}
			fx, fy := float32(sx)-float32(x0), float32(sy)-float32(y0)
			q.in[j] = true
			for k := range 3 {
				c := p.ch[k]
				q.ch[k][j] = (c[i]*(1-fx)+c[i+1]*fx)*(1-fy) + (c[i+p.w]*(1-fx)+c[i+p.w+1]*fx)*fy
			}
		}
	}
	return q
}

// flipped has rows for columns.
func (p *plane) flipped() *plane {
	q := &plane{w: p.h, h: p.w, ppi: p.ppi, in: make([]bool, p.w*p.h)}
	for k := range q.ch {
		q.ch[k] = make([]float32, p.w*p.h)
	}
	for y := range p.h {
		for x := range p.w {
			i, j := y*p.w+x, x*p.h+y
			q.in[j] = p.in[i]
			for k := range 3 {
				q.ch[k][j] = p.ch[k][i]
			}
		}
	}
	return q
}

// thinned is the plane with a mean of n by n pixels for each.
func (p *plane) thinned(n int) *plane {
	q := &plane{w: p.w / n, h: p.h / n, ppi: p.ppi / float64(n)}
	q.in = make([]bool, q.w*q.h)
	for k := range q.ch {
		q.ch[k] = make([]float32, q.w*q.h)
	}
	for y := range q.h {
		for x := range q.w {
			var sum [3]float32
			m := 0
			for i := range n * n {
				j := (y*n+i/n)*p.w + x*n + i%n
				if p.in[j] {
					m++
					for k := range 3 {
						sum[k] += p.ch[k][j]
					}
				}
			}
			if m == n*n {
				q.in[y*q.w+x] = true
				for k := range 3 {
					q.ch[k][y*q.w+x] = sum[k] / float32(m)
				}
			}
		}
	}
	return q
}
