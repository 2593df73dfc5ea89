package repeat

import "math"

// Kind is what was found along one direction.
type Kind string

// An Axis is how the print repeats in one direction. Lengths are inches.
type Axis struct {
	Kind     Kind
	Period   float64
	Match    float64 // 1: a repeat lies on the next exactly
	Depth    float64 // how far the match falls between
	Seen     float64 // repeats in view
	Apart    float64 // share by which two halves of the picture disagree
	Others   []float64
	Mirror   float64 // 1: mirrored it matches as well as moved
	MirrorAt float64 // an axis, from the picture's middle; the next lies half a period on
}

// axis reads a direction's lags. other is what is left of the print in the other one.
func (l *lags) axis(other float64) Axis {
	if math.Sqrt(l.print) < leastContrast || l.print < plainShare*0.1*other {
		return Axis{Kind: Plain}
	}
	peaks := l.peaks()
	best := peak{r: -1}
	for _, p := range peaks {
		if p.r > best.r {
			best = p
		}
	}
	none := Axis{Kind: None}
	if l.print < plainShare*other {
		none.Kind = Plain
	}
	if best.r < leastMatch || best.depth < leastDepth {
		return none
	}
	// The shortest that lies on itself as well as the best: its multiples do too.
	pick := best
	for _, p := range peaks {
		if p.r >= best.r-sameMatch-0.1*(1-best.r) && p.depth >= leastDepth {
			pick = p
			break
		}
	}
	period, seen := l.track(pick, l.r)
	a := Axis{Kind: Look, Period: period / l.ppi / fine, Match: pick.r, Depth: pick.depth, Seen: seen}
	var halves [2]float64
	for i, r := range l.halves {
		if near, ok := summit(r, pick.lag, 0.06*pick.lag+2); ok && near.r > 0.5*pick.r {
			halves[i], _ = l.track(near, r)
		}
	}
	a.Apart = 1
	if halves[0] > 0 && halves[1] > 0 {
		a.Apart = math.Abs(halves[0]-halves[1]) / period
	}
	for _, p := range peaks {
		if p.lag != pick.lag && p.r > 0.6*pick.r && len(a.Others) < 4 && p.lag < 3.2*pick.lag {
			a.Others = append(a.Others, p.lag/l.ppi/fine)
		}
	}
	if a.Match >= sureMatch && a.Depth >= sureDepth && a.Seen >= sureSeen && a.Apart <= sureApart {
		a.Kind = Sure
	} else if none.Kind == Plain && a.Match < sureMatch {
		return none
	}
	return a
}

// Kinds. Only Sure may be filled in unasked, and even that is shown to be confirmed.
const (
	Plain Kind = "plain" // the same all along
	Sure  Kind = "sure"
	Look  Kind = "look" // a repeat that the person must judge
	None  Kind = "none"
)

// Limits, set on pictures of seed 1.
const (
	leastContrast = 2.5 // sigma of 255 under which fabric is plain
	plainShare    = 0.05
	sameMatch     = 0.018
	leastMatch    = 0.25
	leastDepth    = 0.15
	sureMatch     = 0.45
	sureDepth     = 0.3
	sureSeen      = 2.0
	sureApart     = 0.02
	sureTurn      = 5 * math.Pi / 180
)
