package calc

import "fmt"

// CheckBandWidth judges the width of borders sewn together on these edges, raw edge to raw
// edge. A ruler's line and half of what a tape may be off by passes. Each seam in it takes
// two allowances: what is off is shared by twice as many. Derived; no source.
func CheckBandWidth(p Plan, s Sheet, e Edges, width Length, lim Limits) Answer {
	want := s.Bands.On(e).Cut.Length
	off, seams := width.Sub(want), int64(len(p.Borders)-1)
	fig := p.Unit.nearest
	a := Answer{Kind: Right, Say: []string{fmt.Sprintf("As wide as it should be: %s.", fig(want).Exactly())},
		Figures: []Named{{"band, as planned", fig(want)}, {"off by", p.Unit.telling(off.abs())}}, Ways: []WayOut{}}
	if !lim.Tape.Half().Less(off.abs()) || seams < 1 {
		return a
	}
	each := fine(off.abs().Scale(Of(1, 1, Inch), Of(2*seams, 1, Inch)), p.Unit)
	kind, than, allowance := Wide, "wider", "scant"
	if off.Sign() < 0 {
		kind, than, allowance = Narrow, "narrower", "fat"
	}
	told := p.Unit.telling(off.abs()).Shown()
	a.Kind, a.Say = kind, []string{
		fmt.Sprintf("The band is %s %s than the %s planned. Its outer edge and its miters are off by as much.", told, than, fig(want).Exactly()),
		fmt.Sprintf("Over its %s that is an allowance %s by %s in each, or a border cut at another width.", counted(seams, "seam"), allowance, each),
		"If no seam is off, trim the outer edges of all four bands to the narrowest, and change the last border's width in the plan."}
	a.Ways = []WayOut{{Kind: "redo", Title: "Sew the seam that is off again", Redo: []string{"band.{border}.{edge}.checked"},
		Figures: []Named{{"seam allowance", p.Unit.exactly(p.Seam)}}, Acts: []string{
			"Press the band flat, and measure it again.",
			"Measure each border in it, seam to seam.",
			"Unpick the seam beside the border that is off.",
			"Press both strips flat.",
			"Pin that seam again, right sides together.",
			fmt.Sprintf("Sew that seam again at %s.", p.Unit.exactly(p.Seam).Shown()),
			"Press the seam."}}}
	return a
}

// counted is so many of a thing, in words.
func counted(n int64, thing string) string {
	if n == 1 {
		return "one " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
