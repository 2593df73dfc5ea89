package calc

import "fmt"

// CheckCoped judges a center as it measures with its coping strips on, while their seams can
// still be moved: by how much its prints miss, and how far each seam moves. Both seams take
// from strip and center, so each moves by a quarter of what the center is off. false: no
// print misses. Derived; no source.
func CheckCoped(p Plan, s Sheet, lim Limits) (Answer, bool) {
	if p.Coping == nil {
		return Answer{}, false
	}
	along := p.Coping.Edges.Neighbor()
	planned := p.asCoped()
	is, want := p.Center.along(along), planned.along(along)
	off := is.Sub(want)
	var miss Length
	for _, m := range s.Match {
		if m.Possible && off.Sign() != 0 {
			miss = longer(miss, m.Mismatch.Length)
		}
	}
	if miss.Sign() == 0 {
		return Answer{}, false
	}
	u := p.Unit
	told := fmt.Sprintf("The center measures %s with its coping strips, not %s: the prints miss each other by %s at every corner.",
		u.nearest(is).Exactly(), u.nearest(want).Exactly(), u.telling(miss).Shown())
	a := Answer{Kind: Ease, Say: []string{told, "That is hardly seen."}, Figures: []Named{{"prints miss by", u.telling(miss)}}, Ways: []WayOut{}}
	if !lim.Seen.Less(miss) {
		return a, true
	}
	a.Kind, a.Say = string(LookStripes), []string{told, "Now their seams can still be moved; once the borders are cut they can't."}
	by := off.abs().Half().Half()
	each := Figure{by, u, Shared}
	way := WayOut{Kind: "redo", Title: "Take both coping seams in", Redo: []string{"coping.measured"}, Figures: []Named{{"each seam by", each}},
		Acts: []string{"Unpick both coping seams.", "Press strips and center flat.", "Pin both strips again, right sides together.",
			fmt.Sprintf("Sew both seams %s farther from the raw edge than before.", each.Shown()), "Press both seams toward the strips."}}
	if off.Sign() < 0 {
		if p.Seam.Sub(lim.Held).Less(by) { // nothing would hold
			a.Say = append(a.Say, "Their seams can't be let out so far: cut new coping strips, wider by "+u.exactly(off.abs().Half()).Shown()+".")
			return a, true
		}
		way.Title = "Let both coping seams out"
		way.Acts[3] = fmt.Sprintf("Sew both seams %s nearer the raw edge than before.", each.Shown())
	}
	a.Ways = []WayOut{way}
	return a, true
}
