package calc

import (
	"fmt"
	"strings"
)

// A Reckoning is one figure of the sheet with how it came about, for people.
type Reckoning struct {
	Path string // in the sheet's JSON: strips[0].cutLength
	Name string // "ticking, sides: cut length"
	Figure
	How string // "48 1/2 + 2 x 7 1/2 + 4: the side, …"
}

// Reckonings are all figures of the sheet that are not the plan's own, in its order.
func (s Sheet) Reckonings(p Plan) []Reckoning {
	var all []Reckoning
	add := func(path, name string, f Figure, how string) {
		all = append(all, Reckoning{path, name, f, how})
	}
	if c := s.Coping; c != nil {
		add("coping.cutWidth", "coping strips: cut width", c.CutWidth, c.howCut(p))
		add("coping.cutLength", "coping strips: cut length", c.CutLength, "The center's side there, raw edge to raw edge.")
		add("coping.total", "coping strips: both together", c.Total, c.HowTotal(p))
		across, path, name := c.Edges.Neighbor(), "width", "wide"
		if c.Edges == TopBottom {
			path, name = "length", "long"
		}
		add("center."+path, "center with coping strips, "+name, s.Center.Along(across), s.HowCoped())
	}
	for _, e := range allEdges {
		add("bands."+string(e)+".finished", "band on "+e.words()+", finished", s.Bands.On(e).Finished, howBand(p, e))
		add("bands."+string(e)+".cut", "band on "+e.words()+", cut", s.Bands.On(e).Cut,
			fmt.Sprintf("%s + 2 × %s: finished, and an allowance on either side.", s.Bands.On(e).Finished.Bare(), s.Seam.Bare()))
	}
	for _, x := range []struct {
		path, name             string
		finished, raw, centers Figure
		e                      Edges
	}{{"width", "wide", s.Finished.Width, s.Raw.Width, s.Center.Width, Sides}, {"length", "long", s.Finished.Length, s.Raw.Length, s.Center.Length, TopBottom}} {
		add("finished."+x.path, "finished, "+x.name, x.finished, fmt.Sprintf("%s − 2 × %s + 2 × %s: the center less its seams, and a finished band on either side.",
			x.centers.Bare(), s.Seam.Bare(), s.Bands.On(x.e).Finished.Bare()))
		add("raw."+x.path, "before binding, "+x.name, x.raw, s.HowRaw(x.e))
	}
	for i, strip := range s.Strips {
		path, name := fmt.Sprintf("strips[%d].", i), strip.Name+", "+strip.Edges.words()
		add(path+"cutLength", name+": cut length", strip.CutLength, s.HowCutLength(p, strip))
		add(path+"leastLength", name+": least length", strip.LeastLength, s.HowLeast(p, strip))
	}
	for _, e := range allEdges {
		add("marks."+string(e)+".toEnd", e.words()+": from the middle to the end", s.Marks.On(e).ToEnd, s.HowToEnd(e))
		add("marks."+string(e)+".toDot", e.words()+": from the middle to the dot", s.Marks.On(e).ToDot, s.HowToDot(e))
	}
	add("corner.finishedLine", "miter, finished", s.Corner.FinishedLine, s.HowMiter())
	add("corner.drawnLineSides", "line drawn on the sides", s.Corner.DrawnLineSides, s.HowLine(Sides))
	add("corner.drawnLineTopBottom", "line drawn on top and bottom", s.Corner.DrawnLineTopBottom, s.HowLine(TopBottom))
	add("corner.outAlongSides", "sides: the line's end, along the outer edge", s.Corner.OutAlongSides, s.HowOutAlong(Sides))
	add("corner.outAlongTopBottom", "top and bottom: the line's end, along the outer edge", s.Corner.OutAlongTopBottom, s.HowOutAlong(TopBottom))
	for i, m := range s.Match {
		if m.Possible {
			path, name := fmt.Sprintf("match[%d].", i), p.Borders[m.Border-1].Name
			add(path+"mismatch", name+": prints miss by", m.Mismatch, m.How(p))
			for _, x := range []struct {
				path, name string
				a          Addition
			}{{"addToWidth", "width", m.AddToWidth}, {"addToLength", "length", m.AddToLength}} {
				add(path+x.path, name+": or add to the center's "+x.name, x.a.Total, x.a.how(p, m.Border))
				add(path+x.path+".copingStrip", name+": cut width of a coping strip for that", x.a.CopingStrip, x.a.howStrip(p))
			}
			for _, x := range m.InMiter.additions() {
				add(path+"inMiter."+x.path, name+": for a whole motif in the miters add to the center's "+x.name, x.a.Total, x.how(p, m.Border))
				add(path+"inMiter."+x.path+".copingStrip", name+": cut width of a coping strip for that", x.a.CopingStrip, x.a.howStrip(p))
			}
		}
	}
	ways := func(path, name string, w Ways, c Fabric) {
		for _, x := range w.All() {
			if x.Fits {
				add(path+"."+x.Name+".length", name+", "+x.Name+": as it lies", *x.Length, x.howLength())
				add(path+"."+x.Name+".buy", name+", "+x.Name+": to buy", *x.Buy, x.HowBuy(c))
			}
		}
	}
	if s.Coping != nil {
		ways("coping.fabric", "coping strips' fabric", s.Coping.Fabric, (&reader{unit: p.Unit}).fabric("", nil, Border{}))
	}
	for i, c := range s.Fabric {
		ways(fmt.Sprintf("fabric[%d]", i), c.Name, c.Ways, p.Borders[c.Border-1].Fabric)
	}
	for i, c := range s.Together {
		ways(fmt.Sprintf("together[%d]", i), c.Name, c.Ways, p.together(c.Borders))
	}
	return append(all, s.Next.Reckonings(DefaultFinishing(p.Unit))...)
}

// Bare is a figure without its unit, for a reckoning in words: exact where the ruler
// has no line for it and its decimals are few.
func (f Figure) Bare() string {
	if v := f.Value(); len(v) <= 6 && !f.Length.Equal(f.Length.Round(f.Unit, f.Rounding)) {
		return v
	}
	parts := f.Parts()
	parts.Unit = ""
	return strings.TrimSpace(parts.String())
}

// HowCoped is how the center with its coping strips comes to its size.
func (s Sheet) HowCoped() string {
	pieced, is, total := s.Pieced.Along(s.Coping.Edges.Neighbor()), s.Center.Along(s.Coping.Edges.Neighbor()), s.Coping.Total
	if !is.Length.Equal(pieced.Length.Add(total.Length)) {
		return "As it was measured, with both coping strips on."
	}
	return fmt.Sprintf("%s + %s: the center as pieced, and what both coping strips add.", pieced.Bare(), total.Bare())
}

func (c *CopingStrips) howCut(p Plan) string {
	if !p.Coping.Reckoned {
		return "From the plan."
	}
	return fmt.Sprintf("%s ÷ 2 + 2 × %s: half of what both add, and the strip's two allowances.", c.Total.Bare(), p.Unit.nearest(p.Seam).Bare())
}

// HowTotal is how much both coping strips add to the center.
func (c *CopingStrips) HowTotal(p Plan) string {
	how := fmt.Sprintf("2 × (%s − 2 × %s): what both strips finish at.", c.CutWidth.Bare(), p.Unit.nearest(p.Seam).Bare())
	if i, ok := p.printed(); ok && p.Coping.Reckoned && p.Center.equal(p.asCoped()) {
		how += fmt.Sprintf(" With them the two sides of the center differ by whole repeats of %s.", p.Unit.nearest(p.Borders[i].Motif).Exactly())
	}
	return how
}

func howBand(p Plan, e Edges) string {
	cuts := make([]string, len(p.Borders))
	for i, b := range p.Borders {
		cuts[i] = p.Unit.nearest(b.CutOn(e)).Bare()
	}
	seam := p.Unit.nearest(p.Seam).Bare()
	if len(cuts) == 1 {
		return fmt.Sprintf("%s − 2 × %s: the cut width less its two allowances.", cuts[0], seam)
	}
	return fmt.Sprintf("%s − %d × %s: the cut widths less two allowances each.", strings.Join(cuts, " + "), 2*len(cuts), seam)
}

// HowRaw is how wide (of the bands on the sides) or long the bordered top is before
// binding.
func (s Sheet) HowRaw(bands Edges) string {
	return fmt.Sprintf("%s + 2 × (%s − 2 × %s): the center, and both bands less the seams.",
		s.Center.Along(bands.Neighbor()).Bare(), s.Bands.On(bands).Cut.Bare(), s.Seam.Bare())
}

// HowCutLength is how a strip's cut length comes about.
func (s Sheet) HowCutLength(p Plan, strip Strip) string {
	usual := s.Center.Along(strip.Edges).Length.Add(s.Bands.On(strip.Edges.Neighbor()).Cut.Length.Times(2)).Add(p.Spare)
	if p.Borders[strip.Border-1].Lengths == LeastLengths && strip.CutLength.Length.Less(usual) {
		return fmt.Sprintf("%s + %s, up to the ruler's next line: the least length, and what is to spare.", strip.LeastLength.Bare(), p.Unit.nearest(p.Spare).Bare())
	}
	if strip.CutLength.Length.Equal(strip.LeastLength.Length.Round(p.Unit, CutUp)) {
		return "The least that covers the miter: the bands differ too much for the usual length."
	}
	return fmt.Sprintf("%s + 2 × %s + %s: the side, the neighboring band twice, and what is to spare.",
		s.Center.Along(strip.Edges).Bare(), s.Bands.On(strip.Edges.Neighbor()).Cut.Bare(), p.Unit.nearest(p.Spare).Bare())
}

// HowLeast is how the shortest that a strip can be comes about.
func (s Sheet) HowLeast(p Plan, strip Strip) string {
	e := strip.Edges
	outer := p.Unit.nearest(finishedTo(p, e, strip.Border-1).Add(p.Seam)).Bare()
	if s.Corner.Equal() {
		return fmt.Sprintf("%s − 2 × %s + 2 × (%s + 1.4142 × %s), up to the ruler's next line: from dot to dot, and beyond each dot to where the miter's allowance meets the strip's raw edge.",
			s.Center.Along(e).Bare(), s.Seam.Bare(), outer, s.Seam.Bare())
	}
	own, next := s.Bands.On(e).Finished.Bare(), s.Bands.On(e.Neighbor()).Finished.Bare()
	return fmt.Sprintf("%s − 2 × %s + 2 × (%s × %s + %s × √(%s² + %s²)) ÷ %s, up to the ruler's next line: from dot to dot, and beyond each dot to where the miter's allowance meets the strip's raw edge.",
		s.Center.Along(e).Bare(), s.Seam.Bare(), outer, next, s.Seam.Bare(), own, next, own)
}

// HowToEnd is how far a strip's ends of the center are marked from its middle.
func (s Sheet) HowToEnd(e Edges) string {
	return fmt.Sprintf("Half the center's side: %s ÷ 2.", s.Center.Along(e).Bare())
}

// HowToDot is how far its dots are.
func (s Sheet) HowToDot(e Edges) string {
	return fmt.Sprintf("%s ÷ 2 − %s: a seam allowance in from the end.", s.Center.Along(e).Bare(), s.Seam.Bare())
}

// HowMiter is how long the finished miter is.
func (s Sheet) HowMiter() string {
	return s.miter() + ": from the finished widths of the two bands."
}

func (s Sheet) miter() string {
	return fmt.Sprintf("√(%s² + %s²)", s.Bands.Sides.Finished.Bare(), s.Bands.TopBottom.Finished.Bare())
}

// HowLine is how long the line drawn on these edges' strips is.
func (s Sheet) HowLine(e Edges) string {
	own := s.Bands.On(e).Finished.Bare()
	return fmt.Sprintf("%s × (%s + %s) ÷ %s: the finished miter, and on over the seam allowance.", s.miter(), own, s.Seam.Bare(), own)
}

// HowOutAlong is how far along its outer edge a strip's line ends.
func (s Sheet) HowOutAlong(e Edges) string {
	own, next := s.Bands.On(e).Finished.Bare(), s.Bands.On(e.Neighbor()).Finished.Bare()
	return fmt.Sprintf("(%s + %s) × %s ÷ %s: from seam to raw edge, by the ratio of the two bands.", own, s.Seam.Bare(), next, own)
}

// HowAngle is how a strip's angle comes about.
func (s Sheet) HowAngle(e Edges) string {
	if s.Corner.Equal() {
		return "The bands are equal."
	}
	return fmt.Sprintf("Its tangent is the band's finished width over its neighbor's: %s over %s.",
		s.Bands.On(e).Finished.Bare(), s.Bands.On(e.Neighbor()).Finished.Bare())
}

// How is how far the prints miss each other, as the sheet centers them.
func (m Match) How(p Plan) string {
	for _, x := range m.meetings {
		if x.Centering == m.Centering {
			return fmt.Sprintf("From a %s on the middle the dots of the sides fall %s past a motif; from a %s, those of top and bottom %s. No other way to center is better.",
				m.Centering.Sides, x.AtDot.Sides.Exactly(), m.Centering.TopBottom, x.AtDot.TopBottom.Exactly())
		}
	}
	return ""
}

func (a Addition) how(p Plan, border int) string {
	if a.Total.Length.Sign() == 0 {
		return "Nothing: the prints meet as they are."
	}
	return fmt.Sprintf("%s − %s is brought to whole repeats of %s, with the least that is added.",
		p.Unit.nearest(p.Center.along(a.Edges.Neighbor())).Bare(), p.Unit.nearest(p.Center.along(a.Edges)).Bare(), p.Unit.nearest(p.Borders[border-1].Motif).Exactly())
}

func (a Addition) howStrip(p Plan) string {
	if a.Total.Length.Sign() == 0 {
		return "Nothing: the prints meet as they are."
	}
	return fmt.Sprintf("%s ÷ 2 + 2 × %s: half of what is added, and the strip's two allowances.", a.Total.Bare(), p.Unit.nearest(p.Seam).Bare())
}

func (w *Way) howLength() string {
	if !w.proved {
		return "The shortest layout found; the cutting page has its picture."
	}
	return "The shortest layout that there is; the cutting page has its picture."
}

// HowBuy is how what is bought comes about.
func (w *Way) HowBuy(c Fabric) string {
	even := Figure{c.Even, w.Length.Unit, Nearest}
	how := fmt.Sprintf("%s + %s for squaring the ends", w.Length.Bare(), even.Bare())
	if c.Shrink != "0" && c.Shrink != "" {
		how = fmt.Sprintf("(%s) ÷ (1 − %s%%) for the wash", how, c.Shrink)
	}
	return fmt.Sprintf("%s = %s, up to %s.", how, Figure{w.needs, w.Length.Unit, LeastUp}.Shown(), soldBy(w.Length.Unit))
}

// soldBy is what fabric that is bought is rounded up to.
func soldBy(u Unit) string {
	if u == Centimeter {
		return "the next 0.1 m"
	}
	return "the next 1/8 yd, 4 1/2 in"
}

// together is what holds for one fabric: the worst that its borders say of it.
func (p Plan) together(borders []int) Fabric {
	c := p.Borders[borders[0]-1].Fabric
	for _, border := range borders[1:] {
		other := p.Borders[border-1].Fabric
		if c.Even.Less(other.Even) {
			c.Even = other.Even
		}
		if other.washed().Cmp(c.washed()) < 0 {
			c.Shrink = other.Shrink
		}
	}
	return c
}
