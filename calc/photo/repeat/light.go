package repeat

import (
	"math"
	"slices"

	"cornerwise/calc/photo/flat"
)

func even(f *flat.Flat) *plane {
	p := &plane{w: f.W, h: f.H, ppi: f.PPI, in: make([]bool, f.W*f.H)}
	for k := range p.ch {
		p.ch[k] = make([]float32, f.W*f.H)
	}
	fit := fitLight(f)
	for i := range p.in {
		if f.Out[i] {
			continue
		}
		p.in[i] = true
		x, y := float64(i%f.W)/float64(f.W)-0.5, float64(i/f.W)/float64(f.H)-0.5
		gain := float32(math.Exp(-(fit[1]*x + fit[2]*y + fit[3]*x*x + fit[4]*x*y + fit[5]*y*y)))
		r, g, b := float32(f.RGB[3*i])*gain, float32(f.RGB[3*i+1])*gain, float32(f.RGB[3*i+2])*gain
		p.ch[0][i] = 0.3*r + 0.59*g + 0.11*b
		p.ch[1][i] = colorWeight * (r - g) / 2
		p.ch[2][i] = colorWeight * ((r+g)/2 - b) / 2
	}
	for k := range p.ch {
		p.soften(p.ch[k])
		p.center(p.ch[k])
	}
	return p
}

// fitLight is the curved surface of log brightness, by least squares.
func fitLight(f *flat.Flat) (fit [6]float64) {
	var a [6][7]float64
	for y := 0; y < f.H; y += 4 {
		for x := 0; x < f.W; x += 4 {
			i := y*f.W + x
			if f.Out[i] {
				continue
			}
			l := math.Log(8 + 0.3*float64(f.RGB[3*i]) + 0.59*float64(f.RGB[3*i+1]) + 0.11*float64(f.RGB[3*i+2]))
			u, v := float64(x)/float64(f.W)-0.5, float64(y)/float64(f.H)-0.5
			row := [7]float64{1, u, v, u * u, u * v, v * v, l}
			for r := range 6 {
				for c := range 7 {
					a[r][c] += row[r] * row[c]
				}
			}
		}
	}
	for c := range 6 {
		if math.Abs(a[c][c]) < 1e-9 {
			return [6]float64{}
		}
		for r := range 6 {
			if r != c {
				k := a[r][c] / a[c][c]
				for j := range 7 {
					a[r][j] -= k * a[c][j]
				}
			}
		}
	}
	for i := range 6 {
		fit[i] = a[i][6] / a[i][i]
	}
	return fit
}

// soften is a 3 by 3 mean of the fabric's pixels: the weave goes, the print stays.
func (p *plane) soften(c []float32) {
	src := slices.Clone(c)
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
