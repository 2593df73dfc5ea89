package calc

import (
	"encoding/json"
	"fmt"
)

// A Centering is what of the print lies on the middle of a strip.
type Centering string

const (
	OnMotif Centering = "motif"
	OnGap   Centering = "gap"
)

// centerings are the four ways to center two pairs of strips, in the order in
// which they are offered where they match equally well.
var centerings = []Pair[Centering]{
	{OnMotif, OnMotif}, {OnMotif, OnGap}, {OnGap, OnMotif}, {OnGap, OnGap},
}

// A Meeting is what comes together at a corner under one of the four centerings.
type Meeting struct {
	Centering Pair[Centering]
	// AtDot is the point of the repeat that falls on the dot: how far it lies
	// outward past the middle of the last motif, 0 or more and less than a repeat. From
	// there both prints run on alike out along the miter.
	AtDot Pair[Figure]
	// Mismatch is how far one of the prints must slide along its strip to mirror
	// the other: 0 to half a repeat.
	Mismatch Figure

	hardlySeen Length // up to here, by the plan's limits
}

// Seen tells whether the prints miss each other by so much that it is seen.
func (m Meeting) Seen() bool { return m.hardlySeen.Less(m.Mismatch.Length) }

// A Match is whether the print of a border with a motif mirrors at the corners,
// and what would make it. With unequal bands it can't, and only Border and Why
// are set.
//
// On a finished side of length A the print stands (A/2 + t) from the strip's
// middle where the miter is t away from the dot, on the neighbor (B/2 + t). A
// print of repeat P shows the same at both for every t when (A − B)/2 is a whole
// number of P; half a P more is needed where one pair is on the gap. Derived; no
// source.
type Match struct {
	Border      int // 1 is innermost
	Possible    bool
	Why         string          // it is not possible
	Centering   Pair[Centering] // the first of the best
	Mismatch    Figure          // theirs
	AddToWidth  Addition
	AddToLength Addition
	InMiter     *InMiter // nil where a motif can't lie whole in the miters

	meetings   []Meeting
	hardlySeen Length // up to here, by the plan's limits
	settled    bool   // its own fabric has decided between those that match equally well
}

// newMatch reckons border i (from 0), which has a motif.
func newMatch(p Plan, bands Pair[Band], i int) Match {
	m := Match{Border: i + 1, hardlySeen: p.Limits.Seen}
	if p.Borders[i].Fabric.Heads == Up {
		m.Why = "Its heads point up on all four edges, so the print lies along the sides and across top and bottom, and can't mirror at the miter. It could with heads outwards or inwards."
		return m
	}
	if s, t := bands.Sides.Finished, bands.TopBottom.Finished; !s.Length.Equal(t.Length) {
		m.Why = fmt.Sprintf(
			"The bands finish at %s on the sides and %s on top and bottom, so the miter is not at 45 degrees and a print along the strips can't mirror there. It could with bands of one width all round.",
			s.Exactly(), t.Exactly())
		return m
	}
	m.Possible = true
	m.meetings = meetings(p, p.Borders[i].Motif)
	best := m.meetings[0]
	for _, x := range m.meetings[1:] {
		if x.Mismatch.Length.Less(best.Mismatch.Length) {
			best = x
		}
	}
	m.Centering, m.Mismatch = best.Centering, best.Mismatch
	m.AddToWidth = leastAddition(p, Sides, p.Borders[i].Motif)
	m.AddToLength = leastAddition(p, TopBottom, p.Borders[i].Motif)
	m.InMiter = newInMiter(p, i)
	return m
}

// best are all centerings that match equally well, none better; only the one that is settled,
// once it is.
func (m Match) best() []Pair[Centering] {
	if m.settled {
		return []Pair[Centering]{m.Centering}
	}
	var list []Pair[Centering]
	for _, x := range m.meetings {
		if x.Mismatch.Length.Equal(m.Mismatch.Length) {
			list = append(list, x.Centering)
		}
	}
	return list
}

// Centerings are the four meetings of a border, 1 being the innermost. There are
// none without a motif, or where the bands differ.
func Centerings(p Plan, border int) []Meeting {
	motif := p.Borders[border-1].Motif
	last := len(p.Borders) - 1
	if motif.Sign() == 0 || p.Borders[border-1].Fabric.Heads == Up || !finishedTo(p, Sides, last).Equal(finishedTo(p, TopBottom, last)) {
		return nil
	}
	return meetings(p, motif)
}

func meetings(p Plan, motif Length) []Meeting {
	nearest := func(l Length) Figure { return Figure{l, p.Unit, Nearest} }
	atDot := func(e Edges, c Centering) Length {
		at := p.Center.along(e).Half().Sub(p.Seam)
		if c == OnGap {
			at = at.Add(motif.Half())
		}
		return at.mod(motif)
	}
	list := make([]Meeting, len(centerings))
	for i, c := range centerings {
		s, t := atDot(Sides, c.Sides), atDot(TopBottom, c.TopBottom)
		miss := s.Sub(t).mod(motif)
		if back := motif.Sub(miss); back.Less(miss) {
			miss = back
		}
		list[i] = Meeting{c, Pair[Figure]{nearest(s), nearest(t)}, nearest(miss), p.Limits.Seen}
	}
	return list
}

// mod is what is left of the length after whole numbers of m, 0 or more.
func (l Length) mod(m Length) Length {
	n, _ := l.wholes(m)
	return l.Sub(m.Times(n.Int64()))
}

// An Addition is what coping strips add to the center in one direction.
type Addition struct {
	Total       Figure // finished, both strips together; 0 where nothing is needed
	CopingStrip Figure // cut width of one of the two
	Edges       Edges  // of the center, where they are sewn
	Along       Figure // the center's raw side there: how long they are cut
	Center      Size   // the center with both, raw edge to raw edge
	// Easier is with a repeat more, or more of them, where these strips are so
	// narrow that they are fussy to sew; else nil.
	Easier *Addition
}

// leastAddition is the least finished total to sew to these edges of the center
// for an exact match: the finished sides then differ by a whole number of
// repeats, an odd one being met by one pair on the gap.
func leastAddition(p Plan, e Edges, motif Length) Addition {
	grown, other := p.Center.along(e.Neighbor()), p.Center.along(e)
	total := other.Sub(grown).mod(motif)
	a := newAddition(p, e, total)
	if lacking := fussyUnder(p.Unit).Times(2).Sub(total); total.Sign() > 0 && lacking.Sign() > 0 {
		easier := newAddition(p, e, total.Add(lacking.upTo(motif)))
		a.Easier = &easier
	}
	return a
}

func newAddition(p Plan, e Edges, total Length) Addition {
	a := Addition{Edges: e, Center: p.Center}
	var strip Length
	if total.Sign() > 0 {
		strip = total.Half().Add(p.Seam.Times(2))
	}
	if e == Sides {
		a.Center.Width = a.Center.Width.Add(total)
	} else {
		a.Center.Length = a.Center.Length.Add(total)
	}
	a.Total = Figure{total, p.Unit, Nearest}
	a.CopingStrip = Figure{strip, p.Unit, Nearest}
	a.Along = Figure{p.Center.along(e), p.Unit, CutUp}
	return a
}

// fussyUnder is the finished width under which a coping strip is fussy (cp).
func fussyUnder(u Unit) Length {
	if u == Centimeter {
		return Of(12, 10, Centimeter)
	}
	return Of(1, 2, Inch)
}

// Seen tells whether the prints miss each other by so much that it is seen.
func (m Match) Seen() bool { return m.hardlySeen.Less(m.Mismatch.Length) }

// notes are what the maker of this border should know before cutting.
func (m Match) notes(p Plan) []string {
	name := p.Borders[m.Border-1].Name
	if !m.Possible {
		return []string{name + ": " + m.Why}
	}
	notes := []string{}
	if p.Borders[m.Border-1].Fabric.Heads != "" {
		notes = append(notes, name+": this holds for a print that mirrors about its middle from left to right, its heads up.")
	} else {
		notes = append(notes, name+": this holds for a print that mirrors about its middle. One with a direction, such as stems that all point one way, can't mirror at a miter however its strips are turned.")
	}
	if p.Coping != nil {
		return append(notes, m.copingMisses(p)...)
	}
	if !m.Seen() {
		return notes
	}
	notes = append(notes, fmt.Sprintf(
		"%s: at best the prints miss each other by %s at every corner, and more than about %s is seen. Coping strips mend it: %s added to the center's width, or %s to its length.",
		name, m.Mismatch.Shown(), p.Unit.nearest(p.Limits.Seen).Exactly(),
		m.AddToWidth.Total.Exactly(), m.AddToLength.Total.Exactly()))
	for _, a := range []Addition{m.AddToWidth, m.AddToLength} {
		if a.Easier == nil {
			continue
		}
		notes = append(notes, fmt.Sprintf(
			"%s: a coping strip on the %s would finish at %s, and one under %s is fussy to sew. With %s in all it finishes at %s, and matches as well.",
			name, a.Edges.words(), Figure{a.Total.Length.Half(), p.Unit, Nearest}.Exactly(),
			Figure{fussyUnder(p.Unit), p.Unit, Nearest}.Shown(),
			a.Easier.Total.Exactly(), Figure{a.Easier.Total.Length.Half(), p.Unit, Nearest}.Exactly()))
	}
	return notes
}

// copingMisses tells that the plan's coping strips do not bring this print to meet,
// and at what cut they would.
func (m Match) copingMisses(p Plan) []string {
	if m.Mismatch.Length.Sign() == 0 {
		return nil
	}
	name, u, planned := p.Borders[m.Border-1].Name, p.Unit, p.asCoped()
	motif := p.Borders[m.Border-1].Motif
	total := p.bareOf().exactCoping(motif)
	if total.Sign() <= 0 {
		total = total.Add(Length{}.Sub(total).upTo(motif))
		if total.Sign() == 0 {
			total = motif
		}
	}
	cut, miss := u.nearest(total.Half().Add(p.Seam.Times(2))).Exactly(), u.telling(m.Mismatch.Length).Shown()
	along := p.Coping.Edges.Neighbor()
	if is := p.Center.along(along); !p.Center.equal(planned) {
		note := fmt.Sprintf("%s: the center measures %s with its coping strips, not %s, so the prints miss each other by %s at every corner.",
			name, u.nearest(is).Exactly(), u.nearest(planned.along(along)).Exactly(), miss)
		if !m.Seen() {
			return []string{note + " That is hardly seen."}
		}
		return []string{fmt.Sprintf("%s With coping strips cut %s they would meet.", note, cut)}
	}
	return []string{fmt.Sprintf("%s: with coping strips cut %s the prints still miss each other by %s at every corner. Cut %s they meet.",
		name, u.nearest(p.Coping.Cut).Exactly(), miss, cut)}
}

func (s Size) equal(t Size) bool { return s.Width.Equal(t.Width) && s.Length.Equal(t.Length) }

// asCoped is the center as it is pieced with what its coping strips add. Where the center
// was measured with them on, it is another.
func (p Plan) asCoped() Size {
	s, total := p.Pieced, p.Coping.total(p.Seam)
	if p.Coping.Edges == Sides {
		s.Width = s.Width.Add(total)
	} else {
		s.Length = s.Length.Add(total)
	}
	return s
}

// bareOf is the plan on the center as it is without its coping strips, by what it measures
// with them.
func (p Plan) bareOf() Plan {
	total := p.Coping.total(p.Seam)
	p.Pieced = p.Center
	if p.Coping.Edges == Sides {
		p.Pieced.Width = p.Pieced.Width.Sub(total)
	} else {
		p.Pieced.Length = p.Pieced.Length.Sub(total)
	}
	return p
}

// MarshalJSON leaves out every figure where a match is not possible.
func (m Match) MarshalJSON() ([]byte, error) {
	if !m.Possible {
		return json.Marshal(struct {
			Border   int    `json:"border"`
			Possible bool   `json:"possible"`
			Why      string `json:"why"`
		}{m.Border, false, m.Why})
	}
	return json.Marshal(struct {
		Border      int             `json:"border"`
		Possible    bool            `json:"possible"`
		Mismatch    Figure          `json:"mismatch"`
		Centering   Pair[Centering] `json:"centering"`
		AddToWidth  Addition        `json:"addToWidth"`
		AddToLength Addition        `json:"addToLength"`
		InMiter     *InMiter        `json:"inMiter,omitempty"`
	}{m.Border, true, m.Mismatch, m.Centering, m.AddToWidth, m.AddToLength, m.InMiter})
}

// MarshalJSON gives the total as a length, and one coping strip's cut width in it.
func (a Addition) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Value       string `json:"value"`
		Shown       string `json:"shown"`
		CopingStrip Figure `json:"copingStrip"`
	}{a.Total.Value(), a.Total.Shown(), a.CopingStrip})
}
