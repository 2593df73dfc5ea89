package repeat

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// mirror lays the print on itself turned over, all axes of a period at once. Only what
// lies within reach of an axis is laid on: what the lens and the fabric bend is little there.
func (p *plane) mirror(a *Axis) {
	if a.Kind != Sure && a.Kind != Look {
		return
	}
	period := a.Period * p.ppi
	size := min(p.w, int(mirrorReach*period))
	n := max(8, int(2*period))
	num, power := make([]float64, n), make([]float64, n)
	f := newFlips(size)
	for x := 0; x < p.w; x += max(1, size/2) {
		part := min(size, p.w-x)
		if part < size/2 && x > 0 {
			break
		}
		flipNum, flipPower := f.of(p, x, part)
		for s := range flipNum {
			twice := float64(s)/fine + 2*float64(x)
			i := min(n-1, int(math.Mod(twice, period)/period*float64(n)))
			num[i] += flipNum[s]
			power[i] += flipPower[s]
		}
	}
	best, arg := -1.0, 0
	for i := range num {
		if power[i] > 0 && num[i]/power[i] > best {
			best, arg = num[i]/power[i], i
		}
	}
	a.Mirror = best / a.Match
	twice := (float64(arg) + 0.5) / float64(n) * period
	// Places of pixels are their middles.
	a.MirrorAt = math.Mod((twice/2+0.5-float64(p.w)/2)/p.ppi, a.Period/2)
}

const mirrorReach = 4 // periods

// flips lays parts of rows on themselves turned over: a row times itself backwards.
type flips struct {
	n    int
	fft  *fourier.FFT
	long *stretcher
}

func newFlips(size int) *flips {
	n := fit(2 * size)
	return &flips{n, fourier.NewFFT(n), newStretcher(n)}
}

// of sums the columns from x on: by twice the axis's place within them, in 1/fine pixel.
func (f *flips) of(p *plane, x, size int) (num, power []float64) {
	sum, energy := make([]complex128, f.n/2+1), make([]complex128, f.n/2+1)
	seq, g2, in := make([]float64, f.n), make([]float64, f.n), make([]float64, f.n)
	var c, e, m []complex128
	for y := range p.h {
		row := y*p.w + x
		count := 0.0
		clear(g2)
		clear(in)
		for i := range size {
			if p.in[row+i] {
				in[i] = 1
				count++
			}
		}
		if count < float64(size)/2 {
			continue
		}
		for k := range 3 {
			clear(seq)
			mean := 0.0
			for i := range size {
				mean += in[i] * float64(p.ch[k][row+i]) / count
			}
			for i := range size {
				d := in[i] * (float64(p.ch[k][row+i]) - mean)
				seq[i] = d
				g2[i] += d * d
			}
			c = f.fft.Coefficients(c, seq)
			for i, v := range c {
				sum[i] += v * v
			}
		}
		e, m = f.fft.Coefficients(e, g2), f.fft.Coefficients(m, in)
		for i := range energy {
			energy[i] += e[i] * m[i]
		}
	}
	return f.long.stretch(sum)[:2*size*fine], f.long.stretch(energy)[:2*size*fine]
}
