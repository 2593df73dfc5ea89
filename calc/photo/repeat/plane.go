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

func newPlane(w, h int, ppi float64) *plane {
	p := &plane{w: w, h: h, ppi: ppi, in: make([]bool, w*h)}
	for k := range p.ch {
		p.ch[k] = make([]float32, w*h)
	}
	return p
}

// axes are the directions of the print: (cos u, sin u) along, (-sin v, cos v) across.
type axes struct{ u, v float64 }

// turned draws the plane along its print, about its middle, into q. Across, q has rows for
// columns: what runs across the strip runs along q's rows.
func (p *plane) turned(q *plane, a axes, across bool) *plane {
	q.w, q.h, q.ppi = p.w, p.h, p.ppi
	if across {
		q.w, q.h = p.h, p.w
	}
	cu, su, cv, sv := math.Cos(a.u), math.Sin(a.u), math.Cos(a.v), math.Sin(a.v)
	mx, my := float64(p.w)/2, float64(p.h)/2
	for y := range q.h {
		for x := range q.w {
			j := y*q.w + x
			du, dv := float64(x)-mx, float64(y)-my
			if across {
				du, dv = float64(y)-mx, float64(x)-my
			}
			sx, sy := mx+du*cu-dv*sv, my+du*su+dv*cv
			q.in[j] = p.sample(q, j, sx, sy)
		}
	}
	return q
}

// sample takes a place of p, by the four pixels round it, as pixel j of q.
func (p *plane) sample(q *plane, j int, x, y float64) bool {
	q.ch[0][j], q.ch[1][j], q.ch[2][j] = 0, 0, 0
	if x < 0 || y < 0 || x >= float64(p.w-1) || y >= float64(p.h-1) {
		return false
	}
	x0, y0 := int(x), int(y)
	i := y0*p.w + x0
	if !p.in[i] || !p.in[i+1] || !p.in[i+p.w] || !p.in[i+p.w+1] {
		return false
	}
	fx, fy := float32(x)-float32(x0), float32(y)-float32(y0)
	for k := range 3 {
		c := p.ch[k]
		q.ch[k][j] = (c[i]*(1-fx)+c[i+1]*fx)*(1-fy) + (c[i+p.w]*(1-fx)+c[i+p.w+1]*fx)*fy
	}
	return true
}

// thinned is the plane with a mean of n by m pixels for each; of them most must be of fabric.
func (p *plane) thinned(n, m int) *plane {
	q := newPlane(p.w/n, p.h/m, p.ppi/float64(n))
	for y := range q.h {
		for x := range q.w {
			var sum [3]float32
			count := 0
			for dy := range m {
				j := (y*m+dy)*p.w + x*n
				for i := j; i < j+n; i++ {
					if p.in[i] {
						count++
						sum[0] += p.ch[0][i]
						sum[1] += p.ch[1][i]
						sum[2] += p.ch[2][i]
					}
				}
			}
			if 4*count < 3*n*m {
				continue
			}
			q.in[y*q.w+x] = true
			for k := range 3 {
				q.ch[k][y*q.w+x] = sum[k] / float32(count)
			}
		}
	}
	return q
}
