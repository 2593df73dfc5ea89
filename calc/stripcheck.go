package calc

import "fmt"

// Kinds of a strip's verdict, beside Right.
const (
	Covers = "enough" // shorter than planned, but it covers its miter
	Short  = "short"  // under the least length
	Narrow = "narrow" // cut narrower than planned
	Wide   = "wide"   // cut wider
)

// A CutStrip is one strip as it lies there. A Width of 0: it is as planned; a Length of
// 0: not measured.
type CutStrip struct {
	Border        int // 1 is innermost
	Edges         Edges
	Width, Length Length
	First         bool // its ways out are those of the procedure's first edition
}

// A StripCheck is what a strip as cut is good for.
type StripCheck struct {
	Verdict  Verdict  `json:"verdict"`  // of its length
	Width    Verdict  `json:"width"`    // of its width
	Strip    Strip    `json:"strip"`    // as planned now
	Tail     Figure   `json:"tail"`     // beyond the center's raw corner, at each end
	Over     Figure   `json:"over"`     // of the tail, more than the miter needs; under 0: so much is missing at each end
	TooShort Figure   `json:"tooShort"` // under the least length; 0: it is not
	Ways     []WayOut `json:"ways"`
}

// CheckStrip judges a strip by its least length, and works out the ways to save it:
// narrower, joined, new-strip where it is too short; trim-all and new-strip where it is
// too narrow. s is the sheet of p.
func CheckStrip(p Plan, s Sheet, c CutStrip, lim Limits) StripCheck {
	strip := s.strip(c.Border, c.Edges)
	fig := p.Unit.nearest
	k := StripCheck{
		Strip: strip, Width: strip.widthVerdict(c, fig), Ways: []WayOut{},
		Tail: fig(Length{}), Over: fig(Length{}), TooShort: fig(Length{}),
	}
	if c.Length.Sign() == 0 {
		k.Verdict = Verdict{Missing, "Its length is not measured yet.", "Measure it from end to end."}
	} else {
		least := strip.LeastLength.Length
		k.Tail = fig(c.Length.Sub(p.Center.along(c.Edges)).Half())
		k.Over = fig(c.Length.Sub(least).Half())
		if c.Length.Less(least) {
			k.TooShort = Figure{least.Sub(c.Length), p.Unit, LeastUp}
		}
		k.Verdict = k.verdict(c)
	}
	switch {
	case k.Verdict.Kind == Short:
		for _, way := range []func(Plan, Sheet, CutStrip, Limits) (WayOut, bool){narrower, joined} {
			if w, ok := way(p, s, c, lim); ok {
				k.Ways = append(k.Ways, w)
			}
		}
		k.Ways = append(k.Ways, newStripOf(p, s, c))
	case k.Width.Kind == Narrow:
		if w, ok := trimAll(p, c, lim); ok {
			k.Ways = append(k.Ways, w)
		}
		k.Ways = append(k.Ways, newStripOf(p, s, c))
	}
	return k
}

// CheckStrips judges strips that were cut for another plan, as when the center was
// trimmed after them: each against what the plan asks for now.
func CheckStrips(p Plan, s Sheet, strips []CutStrip, lim Limits) []StripCheck {
	list := make([]StripCheck, len(strips))
	for i, c := range strips {
		list[i] = CheckStrip(p, s, c, lim)
	}
	return list
}

func (k StripCheck) verdict(c CutStrip) Verdict {
	least := k.Strip.LeastLength.Shown()
	switch {
	case !c.Length.Less(k.Strip.CutLength.Length):
		return Verdict{Right, fmt.Sprintf("Long enough: a tail of %s at each end.", k.Tail.Shown()), ""}
	case k.TooShort.Length.Sign() == 0 && k.Over.Length.Round(k.Over.Unit, Nearest).Sign() == 0:
		return Verdict{Covers, fmt.Sprintf("Just long enough: a tail of %s at each end.", k.Tail.Shown()), "Center it with care: both tails must come out alike."}
	case k.TooShort.Length.Sign() == 0:
		return Verdict{Covers,
			fmt.Sprintf("Shorter than planned, but fine: a tail of %s at each end, %s more than the miter needs.", k.Tail.Shown(), k.Over.Shown()),
			"Center it with care: both tails must come out alike."}
	}
	return Verdict{Short, fmt.Sprintf("Too short by %s: it needs %s to cover its miters.", k.TooShort.Shown(), least),
		"Do not sew it on. Choose a way out."}
}

func (strip Strip) widthVerdict(c CutStrip, fig func(Length) Figure) Verdict {
	planned := strip.CutWidth
	off := c.Width.Sub(planned.Length)
	switch {
	case c.Width.Sign() == 0 || off.Sign() == 0:
		return Verdict{Right, fmt.Sprintf("As wide as planned: %s.", planned.Exactly()), ""}
	case off.Sign() > 0:
		return Verdict{Wide, fmt.Sprintf("Too wide by %s.", fig(off).Exactly()),
			fmt.Sprintf("Trim it to %s, off the outer edge.", planned.Exactly())}
	}
	return Verdict{Narrow, fmt.Sprintf("Too narrow by %s.", fig(off.abs()).Exactly()),
		"Strips of one border must be alike. Choose a way out."}
}

// strip is the sheet's strip of a border on a pair of edges.
func (s Sheet) strip(border int, e Edges) Strip {
	for _, x := range s.Strips {
		if x.Border == border && x.Edges == e {
			return x
		}
	}
	return Strip{}
}
