package repeat

import (
	"math"
	"slices"
)

// slope is how far the print climbs from one repeat to the next in its rows.
func (p *plane) slope(a Axis) float64 {
	if a.Kind != Sure && a.Kind != Look {
		return 0
	}
	lag := a.Period * p.ppi
	k := math.Max(1, math.Floor(0.45*float64(p.w)/lag))
	step := int(k*lag + 0.5)
	if step >= p.w*7/10 {
		return 0
	}
	reach := max(2, int(0.025*float64(step)))
	score := make([]float64, 2*reach+1)
	for d := -reach; d <= reach; d++ {
		var num, one, two float64
		for y := max(0, -d); y < min(p.h, p.h-d); y += 3 {
			i, j := y*p.w, (y+d)*p.w+step
			for x := 0; x < p.w-step; x++ {
				if !p.in[i+x] || !p.in[j+x] {
					continue
				}
				for c := range 3 {
					f, g := float64(p.ch[c][i+x]), float64(p.ch[c][j+x])
					num += f * g
					one += f * f
					two += g * g
				}
			}
		}
		score[d+reach] = num / math.Sqrt(one*two+1e-9)
	}
	top, ok := summit(score, float64(reach), float64(reach))
	if !ok || top.r-slices.Min(score) < 0.05 { // the same wherever: it tells nothing
		return 0
	}
	return (top.lag - float64(reach)) / float64(step)
}
