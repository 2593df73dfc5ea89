package repeat

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
)

// lags are how well the plane's rows lie on themselves, moved along by so much, in steps of 1/fine
// pixel. They are masked, and normalized at every lag for what overlaps (Padfield 2012); rows are
// summed in the frequency domain.
type lags struct {
	ppi    float64
	r      []float64 // by lag in 1/fine pixel
	halves [2][]float64
	width  int     // pixels of fabric in a long row
	power  float64 // mean square of what changes along the rows, all channels
	print  float64 // as much of it as is no grain
}

const fine = 4

// spectra are sums over rows.
type spectra struct{ num, count, power []complex128 }

func newSpectra(n int) *spectra {
	m := func() []complex128 { return make([]complex128, n) }
	return &spectra{m(), m(), m()}
}

// rowLags takes each row's own mean away first, so that stripes along the rows do
// not count: what is left is what changes along them. Only every n-th row is looked at:
// neighbors are alike.
func rowLags(p *plane, every int) *lags {
	n := fit(2 * p.w)
	fft := fourier.NewFFT(n)
	var half [2]*spectra
	for i := range half {
		half[i] = newSpectra(n/2 + 1)
	}
	seq := make([]float64, n)
	var ch [3][]complex128
	g2 := make([]float64, n)
	var mask, power []complex128
	rest := 0.0
	total := 0.0
	var widths []int
	for y := 0; y < p.h; y += every {
		row := y * p.w
		count, last := 0, 0
		first := -1
		for x := range p.w {
			if p.in[row+x] {
				count++
				last = x
				if first < 0 {
					first = x
				}
			}
		}
		if count < p.w/5 {
			continue
		}
		widths = append(widths, last-first+1)
		clear(g2)
		for k := range 3 {
			clear(seq)
			sum := 0.0
			for x := range p.w {
				if p.in[row+x] {
					sum += float64(p.ch[k][row+x])
				}
			}
			mean := sum / float64(count)
			for x := range p.w {
				if p.in[row+x] {
					d := float64(p.ch[k][row+x]) - mean
					seq[x] = d
					g2[x] += d * d
					rest += d * d
				}
			}
			ch[k] = fft.Coefficients(ch[k], seq)
		}
		clear(seq)
		for x := range p.w {
			if p.in[row+x] {
				seq[x] = 1
				total++
			}
		}
		mask = fft.Coefficients(mask, seq)
		power = fft.Coefficients(power, g2)
		s := half[y*2/p.h]
		for i := range s.num {
			for k := range 3 {
				c := ch[k][i]
				s.num[i] += complex(real(c)*real(c)+imag(c)*imag(c), 0)
			}
			s.count[i] += complex(real(mask[i])*real(mask[i])+imag(mask[i])*imag(mask[i]), 0)
			s.power[i] += complex(real(power[i]), -imag(power[i])) * mask[i]
		}
	}
	l := &lags{ppi: p.ppi}
	if slices.Sort(widths); len(widths) > 0 {
		l.width = widths[len(widths)*9/10]
	}
	all := newSpectra(n/2 + 1)
	for i := range all.num {
		all.num[i] = half[0].num[i] + half[1].num[i]
		all.count[i] = half[0].count[i] + half[1].count[i]
		all.power[i] = half[0].power[i] + half[1].power[i]
	}
	l.r = all.normal(n, p.w)
	for i := range half {
		l.halves[i] = half[i].normal(n, p.w)
	}
	// What is left of the print itself, without grain: grain is like nothing a
	// little farther on, a print is like or unlike something.
	like := 0.0
	for i := int(0.05 * p.ppi * fine); i < min(len(l.r), int(1.5*p.ppi*fine)); i++ {
		if v := math.Abs(l.r[i]); v > like {
			like = v
		}
	}
	if total > 0 {
		l.power = rest / total
		l.print = like * l.power
	}
	return l
}

// normal is the correlation at each lag, NaN where too little overlaps.
func (s *spectra) normal(n, w int) []float64 {
	num, count, power := stretch(s.num, n), stretch(s.count, n), stretch(s.power, n)
	r := make([]float64, w*fine)
	for i := range r {
		back := power[(len(power)-i)%len(power)]
		if count[i] < 0.14*count[0] || power[i] <= 0 || back <= 0 {
			r[i] = math.NaN()
			continue
		}
		r[i] = num[i] / math.Sqrt(power[i]*back)
	}
	return r
}

// stretch goes back from frequencies, with steps fine to the pixel.
func stretch(c []complex128, n int) []float64 {
	long := make([]complex128, n*fine/2+1)
	copy(long, c)
	return fourier.NewFFT(n*fine).Sequence(nil, long)
}

// fit is the next length that FFTs do fast.
func fit(n int) int {
	for ; ; n++ {
		if n%2 != 0 {
			continue
		}
		m := n
		for _, f := range []int{2, 3, 5} {
			for m%f == 0 {
				m /= f
			}
		}
		if m == 1 {
			return n
		}
	}
}
