package repeat

import "math"

// A peak is a lag, in 1/fine pixel, at which the print lies on itself better than beside it.
type peak struct {
	lag, r, depth float64
	differs       float64
}

// peaks are the summits of the curve past its first fall, with how far it falls before.
func (l *lags) peaks() (out []peak) {
	low := 1.0
	for i := 1; i < len(l.r)-1; i++ {
		v := l.r[i]
		if math.IsNaN(v) || math.IsNaN(l.r[i+1]) {
			break
		}
		low = min(low, v)
		if v > l.r[i-1] && v >= l.r[i+1] && v-low > 0.08 && i > 3*fine {
			p, _ := summit(l.r, float64(i), 2)
			p.depth = p.r - low
			out = append(out, p)
		}
	}
	// Of close neighbours only the higher: grain makes twins.
	var kept []peak
	for _, p := range out {
		if n := len(kept); n > 0 && p.lag-kept[n-1].lag < 0.12*p.lag && l.between(kept[n-1], p) < 0.04 {
			if p.r > kept[n-1].r {
				kept[n-1] = p
			}
			continue
		}
		kept = append(kept, p)
	}
	return kept
}

// between is how far the curve falls between two summits, from the lower.
func (l *lags) between(a, b peak) float64 {
	low := min(a.r, b.r)
	least := low
	for i := int(a.lag); i < int(b.lag); i++ {
		least = min(least, l.r[i])
	}
	return low - least
}

// summit is the highest place within reach, by the parabola through three.
func summit(r []float64, lag, reach float64) (peak, bool) {
	lo, hi := max(1, int(lag-reach)), min(len(r)-2, int(lag+reach))
	best := -1
	for i := lo; i <= hi; i++ {
		if !math.IsNaN(r[i]) && (best < 0 || r[i] > r[best]) {
			best = i
		}
	}
	if best < 0 || math.IsNaN(r[best-1]) || math.IsNaN(r[best+1]) {
		return peak{}, false
	}
	a, b, c := r[best-1], r[best], r[best+1]
	if a > b || c > b {
		return peak{}, false // still climbing at the border of the reach
	}
	d := 0.0
	if a+c-2*b < 0 {
		d = 0.5 * (a - c) / (a + c - 2*b)
	}
	return peak{lag: float64(best) + d, r: b}, true
}

// track follows the multiples of a repeat as far as they go, and takes the period
// that fits them all.
func (l *lags) track(p peak, r []float64) (period, seen float64) {
	period = p.lag
	num, den := p.lag*p.r, p.r
	for k := 2.0; ; k++ {
		next, ok := summit(r, k*period, min(0.2*period, 3+0.02*k*period))
		if !ok || next.r < 0.5*p.r {
			break
		}
		num += next.r * k * next.lag
		den += next.r * k * k
		period = num / den
	}
	return period, float64(l.width*fine) / period
}
