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
	ppi   float64
	r     []float64    // by lag in 1/fine pixel
	parts [4][]float64 // the same of the plane's upper and lower half, of its middle and the rest
	width int          // pixels of fabric in a long row
	power float64      // mean square of what changes along the rows, all channels
	print float64      // as much of it as is no grain
}

const fine = 4

// spectra are sums over rows.
type spectra struct{ num, count, power []complex128 }

func newSpectra(n int) *spectra {
	m := func() []complex128 { return make([]complex128, n) }
	return &spectra{m(), m(), m()}
}

// rowLags looks at every n-th row: neighbors are alike.
func rowLags(p *plane, every int) *lags {
	r := newRows(p.w)
	for y := 0; y < p.h; y += every {
		r.add(p, y)
	}
	return r.lags(p)
}

// rows are what is gathered from a plane's rows.
type rows struct {
	n           int
	fft         *fourier.FFT
	bands       [4]*spectra // of the plane's quarters, from its top down
	seq, square []float64   // room for a row
	color       []complex128
	mask, power []complex128
	rest, total float64 // squares of what changes along rows, and pixels
	widths      []int
}

func newRows(w int) *rows {
	n := fit(2 * w)
	r := &rows{n: n, fft: fourier.NewFFT(n), seq: make([]float64, n), square: make([]float64, n)}
	for i := range r.bands {
		r.bands[i] = newSpectra(n/2 + 1)
	}
	return r
}

// add takes a row, unless little of it is fabric. The row's own mean is taken away first, so that
// stripes along the rows do not count: what is left is what changes along them.
func (r *rows) add(p *plane, y int) {
	in := p.in[y*p.w : (y+1)*p.w]
	count, first, last := 0, -1, 0
	for x, fabric := range in {
		if !fabric {
			continue
		}
		if count++; first < 0 {
			first = x
		}
		last = x
	}
	if count < p.w/5 {
		return
	}
	r.widths = append(r.widths, last-first+1)
	r.total += float64(count)
	s := r.bands[y*4/p.h]
	clear(r.square)
	for k := range 3 {
		r.center(p.ch[k][y*p.w:(y+1)*p.w], in, count)
		r.color = r.fft.Coefficients(r.color, r.seq)
		for i, c := range r.color {
			s.num[i] += complex(real(c)*real(c)+imag(c)*imag(c), 0)
		}
	}
	clear(r.seq)
	for x, fabric := range in {
		if fabric {
			r.seq[x] = 1
		}
	}
	r.mask = r.fft.Coefficients(r.mask, r.seq)
	r.power = r.fft.Coefficients(r.power, r.square)
	for i, m := range r.mask {
		s.count[i] += complex(real(m)*real(m)+imag(m)*imag(m), 0)
		s.power[i] += complex(real(r.power[i]), -imag(r.power[i])) * m
	}
}

// center puts a channel's row, its mean taken away, into seq, and adds its squares.
func (r *rows) center(row []float32, in []bool, count int) {
	clear(r.seq)
	sum := 0.0
	for x, fabric := range in {
		if fabric {
			sum += float64(row[x])
		}
	}
	mean := sum / float64(count)
	for x, fabric := range in {
		if fabric {
			d := float64(row[x]) - mean
			r.seq[x] = d
			r.square[x] += d * d
			r.rest += d * d
		}
	}
}

func (r *rows) lags(p *plane) *lags {
	l := &lags{ppi: p.ppi}
	if slices.Sort(r.widths); len(r.widths) > 0 {
		l.width = r.widths[len(r.widths)*9/10]
	}
	long := newStretcher(r.n)
	top, upper, lower, bottom := r.bands[0], r.bands[1], r.bands[2], r.bands[3]
	sum := newSpectra(r.n/2 + 1)
	for i, part := range [][2]*spectra{{top, upper}, {lower, bottom}, {upper, lower}, {top, bottom}} {
		sum.set(part[0], part[1])
		l.parts[i] = sum.normal(long, p.w)
	}
	sum.set(top, upper, lower, bottom)
	l.r = sum.normal(long, p.w)
	// What is left of the print itself, without grain: grain is like nothing a
	// little farther on, a print is like or unlike something.
	like := 0.0
	for i := int(0.05 * p.ppi * fine); i < min(len(l.r), int(1.5*p.ppi*fine)); i++ {
		if v := math.Abs(l.r[i]); v > like {
			like = v
		}
	}
	if r.total > 0 {
		l.power = r.rest / r.total
		l.print = like * l.power
	}
	return l
}

// set makes s the sum of others.
func (s *spectra) set(others ...*spectra) {
	clear(s.num)
	clear(s.count)
	clear(s.power)
	for _, t := range others {
		for i := range s.num {
			s.num[i] += t.num[i]
			s.count[i] += t.count[i]
			s.power[i] += t.power[i]
		}
	}
}

// normal is the correlation at each lag, NaN where too little overlaps.
func (s *spectra) normal(long *stretcher, w int) []float64 {
	num, count, power := long.stretch(s.num), long.stretch(s.count), long.stretch(s.power)
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

// A stretcher goes back from the frequencies of n pixels, with steps fine to the pixel.
type stretcher struct {
	fft  *fourier.FFT
	long []complex128
}

func newStretcher(n int) *stretcher {
	return &stretcher{fourier.NewFFT(n * fine), make([]complex128, n*fine/2+1)}
}

func (s *stretcher) stretch(c []complex128) []float64 {
	clear(s.long[copy(s.long, c):])
	return s.fft.Sequence(nil, s.long)
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
