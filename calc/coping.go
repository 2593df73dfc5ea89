package calc

import "encoding/json"

// coping reads the coping strips and gives the plan the center that the borders
// are sewn to. A cut width left out is reckoned: the least that makes the print of
// the innermost border with a motif meet, a repeat more where that is fussy.
func (r *reader) coping(data json.RawMessage, p *Plan) {
	p.Center = p.Pieced
	if absent(data) {
		return
	}
	o := r.object("coping", data, "edges", "cut")
	if o == nil {
		return
	}
	c := Coping{Edges: Edges(r.oneOf("coping.edges", o["edges"], string(Sides), string(TopBottom)))}
	if absent(o["edges"]) {
		r.fault("coping.edges", "is missing; say sides or topBottom, the edges of the center that the strips are sewn to")
	}
	before := len(r.faults)
	c.Cut = r.length("coping.cut", o["cut"], Length{}, true, maxWidth)
	if least := p.Seam.Times(2); !absent(o["cut"]) && len(r.faults) == before && !least.Less(c.Cut) {
		r.fault("coping.cut", "is %s; a cut width must be more than its two seam allowances, %s, or nothing of it shows", r.show(c.Cut), r.show(least))
	}
	if len(r.faults) > 0 {
		return // no center to reckon on
	}
	if absent(o["cut"]) {
		total, why := p.leastCoping(c.Edges)
		if why != "" {
			r.fault("coping", "%s", why)
			return
		}
		c.Cut, c.Reckoned = total.Half().Add(p.Seam.Times(2)), true
	}
	p.Coping = &c
	r.coped(p)
}

// coped sets the center with its coping strips and checks its size.
func (r *reader) coped(p *Plan) {
	p.Center = p.Pieced
	if p.Coping == nil {
		return
	}
	field, side := "center.width", &p.Center.Width
	if p.Coping.Edges == TopBottom {
		field, side = "center.length", &p.Center.Length
	}
	*side = side.Add(p.Coping.total(p.Seam))
	if maxWidth.Less(p.Coping.Cut) {
		r.fault("coping.cut", "is %s; the most that is reckoned is %s", r.show(p.Coping.Cut), r.show(maxWidth))
	}
	if maxSide.Less(*side) {
		r.fault(field, "is %s with its coping strips; the most that is reckoned is %s", r.show(*side), r.show(maxSide))
	}
}

// total is what both strips add to the center, finished.
func (c Coping) total(seam Length) Length { return c.Cut.Sub(seam.Times(2)).Times(2) }

// printed is the innermost border with a motif that can meet, from 0; false where there is none.
func (p Plan) printed() (int, bool) {
	for i, b := range p.Borders {
		if b.Motif.Sign() > 0 && b.Fabric.Heads != Up {
			return i, true
		}
	}
	return 0, false
}

// leastCoping is what coping strips on these edges add, finished, so that the
// print meets; else why there is nothing that they could mend.
func (p Plan) leastCoping(e Edges) (total Length, why string) {
	i, ok := p.printed()
	if !ok {
		return total, "can't be reckoned: no border has a motif that the strips could bring to meet. Give a border its motif, or the strips their cut width"
	}
	bare := p
	bare.Center = p.Pieced
	m := newMatch(bare, Pair[Band]{newBand(p, Sides), newBand(p, TopBottom)}, i)
	if !m.Possible {
		return total, "can't be reckoned. " + m.Why
	}
	a := m.AddToWidth
	if e == TopBottom {
		a = m.AddToLength
	}
	switch {
	case a.Total.Length.Sign() == 0:
		return total, "has nothing to mend: the print of " + p.Borders[i].Name + " meets at the corners without. Leave the strips out, or give their cut width"
	case a.Easier != nil:
		a = *a.Easier
	}
	return a.Total.Length, ""
}

// nearestCoping is the total that makes the print meet on the center as it is
// pieced now and lies nearest to the one planned, so that a center that measures a
// little other than planned does not take a repeat more or less. For the same
// reason a strip may finish under what is fussy by as much as may be eased.
func (p Plan) nearestCoping() Length {
	planned := p.Coping.total(p.Seam)
	i, ok := p.printed()
	last := len(p.Borders) - 1
	if !ok || !finishedTo(p, Sides, last).Equal(finishedTo(p, TopBottom, last)) {
		return planned
	}
	total, motif := p.exactCoping(p.Borders[i].Motif), p.Borders[i].Motif
	if lacking := fussyUnder(p.Unit).Sub(DefaultLimits(p.Unit).Apart).Times(2).Sub(total); lacking.Sign() > 0 {
		total = total.Add(lacking.upTo(motif))
	}
	return total
}

// exactCoping is the total nearest to that of the strips that makes a print of this
// repeat meet; it may be 0 or less.
func (p Plan) exactCoping(motif Length) Length {
	planned, e := p.Coping.total(p.Seam), p.Coping.Edges
	exact := p.Pieced.along(e).Sub(p.Pieced.along(e.Neighbor()))
	down := planned.Sub(exact).mod(motif)
	total := planned.Sub(down)
	if motif.Less(down.Times(2)) {
		total = total.Add(motif)
	}
	return total
}

// WithCenter is the plan on a center that is pieced to another size: coping strips
// that are reckoned are reckoned anew, others stay as they are cut. The error is
// Faults when that size can't be built on.
func (p Plan) WithCenter(pieced Size) (Plan, error) {
	r := &reader{unit: p.Unit}
	r.sides(pieced, p.Seam)
	if len(r.faults) > 0 {
		return p, r.faults
	}
	was := p
	p.Pieced = pieced
	if p.Coping != nil && p.Coping.Reckoned {
		c := *p.Coping
		c.Cut = p.nearestCoping().Half().Add(p.Seam.Times(2))
		p.Coping = &c
	}
	if r.coped(&p); len(r.faults) > 0 {
		return was, r.faults
	}
	return p, nil
}

// WithCoped is the plan on a center that measures so with its coping strips sewn
// on. They are kept as they were cut. The error is Faults when that size can't be
// built on.
func (p Plan) WithCoped(center Size) (Plan, error) {
	r := &reader{unit: p.Unit}
	if r.sides(center, p.Seam); len(r.faults) > 0 {
		return p, r.faults
	}
	p.Center = center
	return p, nil
}

func (r *reader) sides(s Size, seam Length) {
	for _, side := range []struct {
		field string
		l     Length
	}{{"center.width", s.Width}, {"center.length", s.Length}} {
		if least := seam.Times(2); !least.Less(side.l) {
			r.fault(side.field, "is %s; it must be more than two seam allowances, %s", r.show(side.l), r.show(least))
		}
		if maxSide.Less(side.l) {
			r.fault(side.field, "is %s; the most that is reckoned is %s", r.show(side.l), r.show(maxSide))
		}
	}
}
