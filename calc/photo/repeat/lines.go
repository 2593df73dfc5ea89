package repeat

import "math"

// direction finds how the print is turned in the frame: roughly by which way its
// edges run (the structure tensor, Bigun and Granlund 1987), then by the angle at
// which its lines, summed along themselves, give the sharpest profile. A print
// without lines is turned until it lies on itself.
func (p *plane) direction() axes {
	angle, ok := p.edges()
	if !ok[0] && !ok[1] {
		return p.thinned(4, 4).byRepeat()
	}
	for i, across := range []bool{false, true} {
		if !ok[i] {
			continue
		}
		for _, s := range []struct{ reach, step, stretch float64 }{{0.6, 0.1, 8}, {0.16, 0.02, 60}} {
			degs, score := p.scan(angle[i], s.reach, s.step, s.stretch, across)
			best := 0
			for k := range score {
				if score[k] > score[best] {
					best = k
				}
			}
			angle[i] = degs[best]
		}
	}
	switch {
	case !ok[1]:
		angle[1] = angle[0]
	case !ok[0]:
		angle[0] = angle[1]
	}
	return axes{angle[0] * math.Pi / 180, angle[1] * math.Pi / 180}
}

// edges are the degrees at which edges along and across run.
func (p *plane) edges() (angle [2]float64, ok [2]bool) {
	var runs [720]float64 // by quarter degree of the edge's direction, 0 to 180
	total := 0.0
	for y := 2; y < p.h-2; y++ {
		for x := 2; x < p.w-2; x++ {
			i := y*p.w + x
			if !p.in[i] || !p.in[i-2] || !p.in[i+2] || !p.in[i-2*p.w] || !p.in[i+2*p.w] {
				continue
			}
			for k := range 3 {
				c := p.ch[k]
				gx, gy := float64(c[i+1]-c[i-1]), float64(c[i+p.w]-c[i-p.w])
				e := gx*gx + gy*gy
				if e < 16 {
					continue
				}
				deg := math.Atan2(gy, gx)*180/math.Pi + 90 // an edge runs square to its gradient
				runs[int(math.Mod(deg+360, 180)*4)%720] += e
				total += e
			}
		}
	}
	for i := range angle {
		best := 0.0
		for d := -mostTurn; d <= mostTurn; d += 0.25 {
			sum := 0.0
			for o := -sector; o <= sector; o += 0.25 {
				near := 1 - math.Abs(o)/sector
				sum += near * runs[int((d+o+90*float64(i)+360)*4)%720]
			}
			if sum > best {
				best, angle[i] = sum, d
			}
		}
		// At mostTurn itself the lines run aslant, beyond it.
		ok[i] = best > leastRuns*total*sector/180 && math.Abs(angle[i]) < mostTurn
	}
	if ok[0] && ok[1] && math.Abs(angle[0]-angle[1]) > 4 { // off square more than fabric is
		ok[0], ok[1] = false, false
	}
	return angle, ok
}

func (p *plane) scan(from, reach, step, inches float64, across bool) (degs, score []float64) {
	for d := from - reach; d <= from+reach+step/2; d += step {
		degs = append(degs, d)
		score = append(score, p.sharpness(d*math.Pi/180, inches*p.ppi, across))
	}
	return degs, score
}

// byRepeat tries angles for the one at which the print lies best on itself. For
// prints without lines.
func (p *plane) byRepeat() axes {
	room := newPlane(p.w, p.h, 0)
	score := func(degrees float64) float64 {
		a := axes{degrees * math.Pi / 180, degrees * math.Pi / 180}
		l := rowLags(p.turned(room, a, false), 2)
		c := rowLags(p.turned(room, a, true), 2)
		return l.farMatch(l.axis(c.print, nil)) + c.farMatch(c.axis(l.print, nil))
	}
	best, arg := 0.3, 0.0
	for d := -4.0; d <= 4; d += 0.5 {
		if s := score(d); s > best {
			best, arg = s, d
		}
	}
	return axes{arg * math.Pi / 180, arg * math.Pi / 180}
}

// taper fades the ends of a stretch out: cut off sharply, they would make steps.
var taper = func() (t [128]float32) {
	for i := range t {
		s := math.Sin(math.Pi * (float64(i) + 0.5) / float64(len(t)))
		t[i] = float32(s * s)
	}
	return t
}()

// sharpness is how much the mean changes from line to line of lines at an angle,
// each broken into stretches.
func (p *plane) sharpness(angle, stretch float64, across bool) float64 {
	c, s := math.Cos(angle), math.Sin(angle)
	if across {
		c, s = s, -c // t below is then x cos + y sin
	}
	n := p.w + p.h
	pieces := int(float64(n)/stretch) + 1
	type bin struct {
		sum   [3]float32
		count float32
	}
	bins := make([]bin, (n+1)*pieces)
	// Every row, a third of its pixels, and no weights between lines: any lattice in
	// the sampling would favor some angles.
	for y := range p.h {
		for x := y * 7919 % 3; x < p.w; x += 3 {
			i := y*p.w + x
			if !p.in[i] {
				continue
			}
			b := int(float64(y)*c - float64(x)*s + float64(n)/4)
			if b < 0 || b > n {
				continue
			}
			along := math.Abs(float64(x)*c+float64(y)*s) / stretch
			piece := min(pieces-1, int(along))
			w := taper[int((along-float64(piece))*float64(len(taper)-1))%len(taper)]
			at := &bins[piece*(n+1)+b]
			for k := range 3 {
				at.sum[k] += p.ch[k][i] * w
			}
			at.count += w
		}
	}
	least := float32(min(40, stretch/12))
	score, lines := 0.0, 0.0
	for b := range len(bins) - 1 {
		l, h := &bins[b], &bins[b+1]
		if l.count < least || h.count < least {
			continue
		}
		for k := range 3 {
			d := float64(l.sum[k]/l.count - h.sum[k]/h.count)
			score += d * d
		}
		lines++
	}
	return score / max(1, lines)
}

// farMatch is how well the print lies on itself as many repeats away as are half of
// the picture: there a wrong angle tells most.
func (l *lags) farMatch(a Axis) float64 {
	if a.Kind != Sure && a.Kind != Look {
		return 0
	}
	lag := a.Period * l.ppi * fine
	k := max(1, math.Floor(0.45*float64(l.width*fine)/lag))
	if p, ok := summit(l.r, k*lag, 0.05*lag+2); ok {
		return p.r * (1 - lag/float64(l.width*fine)) // a print repeats aslant too, less often
	}
	return 0
}

// Edges count within sector of a direction; a direction is one when so many times
// more of them run there than would of a print that runs all ways alike.
const (
	sector    = 10.0
	leastRuns = 1.3
	mostTurn  = 7.0 // degrees; the sheet is laid square by eye
)
