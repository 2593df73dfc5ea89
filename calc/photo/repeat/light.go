package repeat

import (
	"math"

	"cornerwise/calc/photo/flat"
)

// even evens out the light of a flat picture, into p; room is as large.
func even(p *plane, room []float32, f *flat.Flat, light curve) {
	for i := range p.in {
		p.in[i] = !f.Out[i]
		if f.Out[i] {
			continue
		}
		x, y := float64(i%f.W)/float64(f.W)-0.5, float64(i/f.W)/float64(f.H)-0.5
		gain := float32(math.Exp(-light.at(x, y)))
		r, g, b := float32(f.RGB[3*i])*gain, float32(f.RGB[3*i+1])*gain, float32(f.RGB[3*i+2])*gain
		p.ch[0][i] = 0.3*r + 0.59*g + 0.11*b
		p.ch[1][i] = colorWeight * (r - g) / 2
		p.ch[2][i] = colorWeight * ((r+g)/2 - b) / 2
	}
	for k := range p.ch {
		copy(room, p.ch[k])
		p.soften(p.ch[k], room)
		p.center(p.ch[k])
	}
}

// A curve is the brightness of light over a flat picture, in natural logarithms: five factors of
// x, y, x², xy and y², each from -1/2 to 1/2 across the picture.
type curve [5]float64

func (c curve) at(x, y float64) float64 {
	return c[0]*x + c[1]*y + c[2]*x*x + c[3]*x*y + c[4]*y*y
}

// fitLight is the curve that the brightness follows, by least squares. A print of few repeats
// looks like a curve, too. Where its repeats are known, as steps in pixels, what counts is how
// the brightness changes from one repeat to the next; the print falls out of that.
func fitLight(f *flat.Flat, steps []flat.Pt) curve {
	const alone = 0.02 // weight of a place by itself beside one of a pair
	var s sums
	for y := 0; y < f.H; y += 4 {
		for x := 0; x < f.W; x += 4 {
			l, ok := brightness(f, x, y)
			if !ok {
				continue
			}
			here := terms(f, x, y)
			if len(steps) == 0 {
				s.add(here, l, 1)
				continue
			}
			s.add(here, l, alone)
			for _, step := range steps {
				tx, ty := int(float64(x)+step.X+0.5), int(float64(y)+step.Y+0.5)
				if m, ok := brightness(f, tx, ty); ok && math.Abs(m-l) < 0.4 {
					there := terms(f, tx, ty)
					for i := range there {
						there[i] -= here[i]
					}
					s.add(there, m-l, 1)
				}
			}
		}
	}
	return s.solve()
}

// terms are 1 and what the factors of a curve count.
func terms(f *flat.Flat, x, y int) [6]float64 {
	u, v := float64(x)/float64(f.W)-0.5, float64(y)/float64(f.H)-0.5
	return [6]float64{1, u, v, u * u, u * v, v * v}
}

// brightness is a pixel's, as a natural logarithm.
func brightness(f *flat.Flat, x, y int) (float64, bool) {
	if x < 0 || y < 0 || x >= f.W || y >= f.H || f.Out[y*f.W+x] {
		return 0, false
	}
	c := f.RGB[3*(y*f.W+x):]
	return math.Log(8 + 0.3*float64(c[0]) + 0.59*float64(c[1]) + 0.11*float64(c[2])), true
}

// sums are the normal equations of a curve.
type sums [6][7]float64

func (s *sums) add(terms [6]float64, value, weight float64) {
	for r := range 6 {
		for c := range 6 {
			s[r][c] += weight * terms[r] * terms[c]
		}
		s[r][6] += weight * terms[r] * value
	}
}

func (s *sums) solve() (fit curve) {
	for c := range 6 {
		if math.Abs(s[c][c]) < 1e-9 {
			return curve{}
		}
		for r := range 6 {
			if r != c {
				k := s[r][c] / s[c][c]
				for j := range 7 {
					s[r][j] -= k * s[c][j]
				}
			}
		}
	}
	for i := range fit {
		fit[i] = s[i+1][6] / s[i+1][i+1]
	}
	return fit
}

// soften is a 3 by 3 mean of the fabric's pixels: the weave goes, the print stays.
func (p *plane) soften(c, src []float32) {
	for y := 1; y < p.h-1; y++ {
		for x := 1; x < p.w-1; x++ {
			i := y*p.w + x
			if !p.in[i] {
				continue
			}
			var sum, n float32
			for dy := -p.w; dy <= p.w; dy += p.w {
				for j := i + dy - 1; j <= i+dy+1; j++ {
					if p.in[j] {
						sum += src[j]
						n++
					}
				}
			}
			c[i] = sum / n
		}
	}
}

// center takes the mean away.
func (p *plane) center(c []float32) {
	sum, n := 0.0, 0
	for i, in := range p.in {
		if in {
			sum += float64(c[i])
			n++
		}
	}
	if n == 0 {
		return
	}
	mean := float32(sum / float64(n))
	for i, in := range p.in {
		if in {
			c[i] -= mean
		}
	}
}

// The two color differences count more than brightness: they carry less of light's doing.
const colorWeight = 1.4
