package flat

import (
	"math"
	"math/rand/v2"
)

// cross is where two lines meet; ok is false where they run side by side.
func cross(l, m [2]Pt) (Pt, bool) {
	dx, dy := l[1].X-l[0].X, l[1].Y-l[0].Y
	ex, ey := m[1].X-m[0].X, m[1].Y-m[0].Y
	den := dx*ey - dy*ex
	if math.Abs(den) < 1e-9 {
		return Pt{}, false
	}
	t := ((m[0].X-l[0].X)*ey - (m[0].Y-l[0].Y)*ex) / den
	return Pt{l[0].X + t*dx, l[0].Y + t*dy}, true
}

// agree picks the places on one line, by random pairs (Fischler and Bolles 1981).
func agree(ts, offs []float64, tolerance float64) (best []int) {
	if len(ts) < 10 {
		return nil
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var on []int
	for range 200 {
		i, j := rng.IntN(len(ts)), rng.IntN(len(ts))
		if math.Abs(ts[i]-ts[j]) < 0.25 {
			continue
		}
		slope := (offs[j] - offs[i]) / (ts[j] - ts[i])
		on = on[:0]
		for k := range ts {
			if math.Abs(offs[i]+slope*(ts[k]-ts[i])-offs[k]) < tolerance {
				on = append(on, k)
			}
		}
		if len(on) > len(best) {
			best, on = on, best
		}
	}
	return best
}

// parabola is the least-squares curve through the places.
func parabola(ts, offs []float64) (a, b, c float64) {
	var s [5]float64
	var y [3]float64
	for k := range ts {
		p := 1.0
		for i := range 5 {
			s[i] += p
			if i < 3 {
				y[i] += p * offs[k]
			}
			p *= ts[k]
		}
	}
	m := [3][4]float64{{s[0], s[1], s[2], y[0]}, {s[1], s[2], s[3], y[1]}, {s[2], s[3], s[4], y[2]}}
	for i := range 3 {
		for r := range 3 {
			if r != i {
				f := m[r][i] / m[i][i]
				for k := range 4 {
					m[r][k] -= f * m[i][k]
				}
			}
		}
	}
	return m[0][3] / m[0][0], m[1][3] / m[1][1], m[2][3] / m[2][2]
}

func sq2(x float64) float64 { return x * x }
