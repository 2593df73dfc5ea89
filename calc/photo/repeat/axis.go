package repeat

import "math"

// Kind is what was found along one direction.
type Kind string

// Kinds. Only Sure may be filled in unasked, and even that is shown to be confirmed.
const (
	Plain Kind = "plain" // the same all along
	Sure  Kind = "sure"
	Look  Kind = "look" // a repeat that the person must judge
	None  Kind = "none"
)

// Why is the reason for which a repeat is not sure.
type Why string

// Reasons.
const (
	Few    Why = "few"    // fewer than two repeats in view
	Turned Why = "turned" // the print lies aslant to the sheet
	Weave  Why = "weave"  // too fine: threads, or what the camera makes of them
	Alike  Why = "alike"  // several lengths fit alike
	Differ Why = "differ" // what repeats is not the same each time
	Faint  Why = "faint"  // the repeats are not much like each other
	Bent   Why = "bent"   // lines do not come out straight
	Uneven Why = "uneven" // parts of the picture give different lengths
)

// An Axis is how the print repeats in one direction. Lengths are inches.
type Axis struct {
	Kind     Kind
	Why      Why // of Look
	Period   float64
	Match    float64 // 1: a repeat lies on the next exactly
	Depth    float64 // how far the match falls between
	Seen     float64 // repeats in view
	Apart    float64 // share by which parts of the picture disagree; 1: they can't be compared
	Differs  float64 // root mean square of 255 by which repeats differ where they do most
	Contrast float64 // the same of the whole print
	Others   []float64
	Mirror   float64 // 1: mirrored it matches as well as moved
	MirrorAt float64 // an axis, from the picture's middle; the next lies half a period on
}

// Limits, set on pictures of seeds 1, 11, 12 and 13; sureApart on some made by another program too.
const (
	leastContrast = 2.5 // sigma of 255 under which fabric is plain
	plainShare    = 0.05
	leastMatch    = 0.25
	leastDepth    = 0.15
	sureMatch     = 0.85
	plainMatch    = 0.45 // of little that is left in this direction, to count as a print
	sureDepth     = 0.3
	sureSeen      = 2.0
	sureApart     = 0.0018 // a length may be off by some four times as much
	sureTurn      = 4 * math.Pi / 180
	sureLeast     = 0.15 // inches
	nearMatch     = 0.3  // under the best, of a length that is looked at
	mostLooked    = 6    // lengths
	sameDiffers   = 1.3  // times the least difference, which is as good
	rivalDiffers  = 1.8  // times the least difference, which may be
	floorDiffers  = 2.0  // steps of 255 that tell nothing
	sameMatch     = 0.018
	sureDiffers   = 0.25 // of the contrast
)

// axis reads a direction's lags. other is what is left of the print in the other one, m tells
// where repeats differ; without it the axis is a rough one.
func (l *lags) axis(other float64, m *mate) Axis {
	if math.Sqrt(l.print) < leastContrast || l.print < plainShare*0.1*other {
		return Axis{Kind: Plain}
	}
	none := Axis{Kind: None}
	if l.print < plainShare*other {
		none.Kind = Plain
	}
	peaks := l.peaks()
	best := peak{r: -1}
	for _, p := range peaks {
		if p.r > best.r {
			best = p
		}
	}
	if best.r < leastMatch || best.depth < leastDepth {
		return none
	}
	pick, rival := l.pick(peaks, best, m)
	period, seen := l.track(pick, l.r)
	a := Axis{Kind: Look, Period: period / l.ppi / fine, Match: pick.r, Depth: pick.depth,
		Seen: seen, Apart: l.apart(pick, period), Differs: pick.differs,
		Contrast: math.Sqrt(l.power)}
	for _, p := range peaks {
		if p.lag != pick.lag && p.r > 0.6*pick.r && len(a.Others) < 4 && p.lag < 3.2*pick.lag {
			a.offer(p.lag / l.ppi / fine)
		}
	}
	a.offer(a.Period / 2)
	if 2*a.Period < float64(l.width)/l.ppi {
		a.offer(2 * a.Period)
	}
	a.Why = a.why(rival)
	switch {
	case a.Why == "":
		a.Kind = Sure
	case none.Kind == Plain && a.Match < plainMatch:
		return none
	}
	return a
}

// offer adds a length worth offering, unless one like it is there.
func (a *Axis) offer(inches float64) {
	for _, o := range a.Others {
		if math.Abs(o/inches-1) < 0.03 {
			return
		}
	}
	a.Others = append(a.Others, inches)
}

// why tells what keeps a repeat from being sure, empty where nothing does.
func (a Axis) why(rival bool) Why {
	switch {
	case a.Seen < sureSeen:
		return Few
	case a.Period < sureLeast:
		return Weave
	case a.Match < sureMatch || a.Depth < sureDepth:
		return Faint
	case a.Differs > max(2*floorDiffers, sureDiffers*a.Contrast):
		return Differ
	case rival:
		return Alike
	case a.Apart > sureApart:
		return Uneven
	}
	return ""
}

// pick is the shortest length at which the print differs from itself as little as at any: its
// multiples do too. rival tells whether a shorter one comes near.
func (l *lags) pick(peaks []peak, best peak, m *mate) (pick peak, rival bool) {
	if m == nil {
		return roughly(peaks, best), false
	}
	var looked []peak
	for _, p := range peaks {
		if p.r < best.r-nearMatch || p.depth < leastDepth || len(looked) == mostLooked {
			continue
		}
		var ok bool
		if p.differs, ok = m.differs(p.lag / fine / l.ppi); ok {
			looked = append(looked, p)
		}
	}
	if len(looked) == 0 {
		best.differs, _ = m.differs(best.lag / fine / l.ppi)
		return best, true
	}
	least := math.Inf(1)
	for _, p := range looked {
		least = min(least, p.differs)
	}
	for _, p := range looked {
		if p.differs <= sameDiffers*least+floorDiffers {
			return p, rival
		}
		rival = rival || p.differs <= rivalDiffers*least+2*floorDiffers
	}
	return best, true
}

// apart is the share by which the halves of the picture disagree, or its middle and the rest: what a
// lens told wrongly does alike in both halves. Of a long repeat the middle may show too little,
// as the sheet lies there.
func (l *lags) apart(pick peak, period float64) float64 {
	var part [4]float64
	for i, r := range l.parts {
		if near, ok := summit(r, pick.lag, 0.06*pick.lag+2); ok && near.r > 0.5*pick.r {
			part[i], _ = l.track(near, r)
		}
	}
	upper, lower, middle, rest := part[0], part[1], part[2], part[3]
	switch {
	case upper == 0 || lower == 0:
		return 1
	case middle == 0 || rest == 0:
		return math.Abs(upper-lower) / period
	}
	return max(math.Abs(upper-lower), math.Abs(middle-rest)) / period
}

// roughly is the shortest length at which the print matches about as well as at any.
func roughly(peaks []peak, best peak) peak {
	for _, p := range peaks {
		if p.r >= best.r-sameMatch-0.1*(1-best.r) && p.depth >= leastDepth {
			return p
		}
	}
	return best
}
