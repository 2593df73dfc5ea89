package steps

import (
	"fmt"

	"cornerwise/calc"
)

// Coping strips are sewn to the center as it is pieced, before it is what the
// borders are reckoned for: two more strips to cut, from end to end and without dots.
var coping = []stepRow{
	{
		id: "coping-fabric", title: "Coping strips: the fabric", round: copedPair,
		ticks: []tickRows{{nil, []tickRow{
			{id: "copingFabric.pressed", label: "Fabric pressed", title: "Press the fabric",
				say:     "Press the coping strips' fabric flat. The straight grain runs along the selvage.",
				why:     "A strip cut off the grain stretches, and the center ripples.",
				caution: "iron", kind: "coping", act: "ready"},
			{id: "copingFabric.squared", label: "Selvages off, end square", title: "Square the fabric",
				say:     "Cut off both selvages along the straight grain. Then cut one end square to them.",
				why:     "A selvage is woven tighter and puckers. All is measured from one long cut edge and the squared end.",
				needs:   "copingFabric.pressed",
				caution: "cutter", cuts: true, number: "copingUsable", kind: "coping", act: "square"},
		}}},
	},
	{
		id: "coping-parts-{edge}", title: "{edge} coping strip's parts", round: everyCopingJoined,
		ticks: []tickRows{{nil, []tickRow{
			{id: "coping.{edge}.parts", label: "{edge} coping strip's parts measured", title: "Measure the {edge} strip's parts",
				say:    "Across the fabric, mark the parts as wide as the strip, each as long as shown.",
				why:    "The strip is longer than the fabric is wide, so it is joined from parts.",
				needs:  "size.settled copingFabric.squared",
				number: "copingParts", kind: "coping", act: "parts"},
			{id: "coping.{edge}.partsCut", label: "{edge} coping strip's parts cut", title: "Cut the {edge} strip's parts",
				say:     "Measure once more. Hold the ruler down and cut the parts.",
				why:     "Each part is so long that the joined strip has its whole length.",
				needs:   "coping.{edge}.parts",
				caution: "cutter", cuts: true, number: "copingParts", kind: "coping", act: "parts-cut"},
			{id: "coping.{edge}.joined", label: "{edge} coping strip's parts joined", title: "Join the {edge} strip's parts",
				say:     "Lay two ends on each other, right sides together, and pin. Sew a seam allowance in.",
				why:     "A straight join takes the least fabric of a narrow strip.",
				needs:   "coping.{edge}.partsCut",
				caution: "pins", number: "copingJoins", kind: "coping", act: "join"},
			{id: "coping.{edge}.joinPressed", label: "{edge} coping strip's joins pressed", title: "Press the {edge} strip's joins open",
				say:     "Press each join open. Set the iron down and lift it.",
				why:     "An open seam lies flat in the narrow strip.",
				needs:   "coping.{edge}.joined",
				caution: "iron", kind: "coping", act: "join-press"},
		}}},
	},
	{
		id: "coping-cut", title: "Coping strips: cut", round: copedPair,
		groups: []groupRow{{id: "coping.measured", label: "Both coping strips measured", title: "Measure both strips",
			say: "Mark both coping strips, each as wide and as long as shown."}},
		ticks: []tickRows{{bothEdges, []tickRow{
			{id: "coping.{edge}.measured", group: "coping.measured", as: "{edge}", when: copingJoined, label: "{edge} coping strip measured", title: "Measure the {edge} strip",
				say:    "Mark the length on the joined strip, and check that it is as wide all along.",
				why:    "Two strips bring the center to {copedTo}.",
				needs:  "size.settled coping.{edge}.joinPressed",
				number: "coping", kind: "coping", act: "measure"},
			{id: "coping.{edge}.measured", group: "coping.measured", as: "{edge}", when: copingAcross, label: "{edge} coping strip measured", title: "Measure the {edge} strip",
				say:    "Mark the {edge} coping strip straight across its fabric.",
				why:    "Two strips bring the center to {copedTo}.",
				needs:  "size.settled copingFabric.squared",
				number: "coping", kind: "coping", act: "measure"},
			{id: "coping.{edge}.measured", group: "coping.measured", as: "{edge}", when: copingAlong, label: "{edge} coping strip measured", title: "Measure the {edge} strip",
				say:    "Mark the {edge} coping strip along its fabric's grain.",
				why:    "Two strips bring the center to {copedTo}.",
				needs:  "size.settled copingFabric.squared",
				number: "coping", kind: "coping", act: "measure"},
			{id: "coping.{edge}.cut", label: "{edge} coping strip cut", title: "Cut the {edge} strip",
				say:     "Measure once more. Hold the ruler down and cut.",
				why:     "Its width decides {copedFor}.",
				needs:   "coping.{edge}.measured",
				caution: "cutter", cuts: true, number: "coping", kind: "coping", act: "cut"},
		}}},
	},
	{
		id: "coping-sew", title: "Coping strips: sew", round: copedPair,
		groups: []groupRow{{round: bothEdges, id: "coping.{edge}", label: "{edge} coping strip sewn", title: "Pin and sew the {edge} strip",
			say: "Right sides together, match middles, then ends, and pin. Sew from end to end."}},
		ticks: []tickRows{{bothEdges, []tickRow{
			{id: "coping.{edge}.pinned", group: "coping.{edge}", as: "pin", label: "{edge} coping strip pinned", title: "Pin the {edge} strip",
				say:     "Right sides together, match the middles, then the ends. Then pin between.",
				why:     "Pinned by halves, the strip neither stretches the edge nor gathers it.",
				needs:   "coping.{edge}.cut",
				caution: "pinning", number: "copingLength", kind: "coping", act: "pin"},
			{id: "coping.{edge}.sewn", group: "coping.{edge}", as: "sew", label: "{edge} coping strip sewn", title: "Sew the {edge} strip",
				say:     "Sew from end to end, the whole length of the edge.",
				why:     "There is no dot here: a coping strip belongs to the center.",
				needs:   "coping.{edge}.pinned",
				caution: "pins", number: "seamAndStitch", kind: "coping", act: "sew"},
			{id: "coping.{edge}.pressed", label: "{edge} coping strip pressed", title: "Press the {edge} strip",
				say:     "Press the seam toward the strip. Set the iron down and lift it.",
				why:     "A fold left at the seam makes the center smaller.",
				needs:   "coping.{edge}.sewn",
				caution: "iron", kind: "coping", act: "press"},
		}}},
	},
	{
		id: "coping-size", title: "The center with its strips", round: copedPair,
		measures: []measureRow{{id: "coped-{along}", label: "Measured {along}", expect: "coped", tick: "coping.measured"}},
		ticks: []tickRows{{nil, []tickRow{{
			id: "coping.measured", label: "Center measured with its strips", title: "Measure over both strips",
			say:    "Measure across the middle, over both coping strips. If it differs, enter what you see.",
			why:    "From here on the borders are reckoned for the center with its strips.",
			needs:  "coping.*.pressed",
			number: "coped", kind: "coping", act: "size",
		}}}},
	},
}

// copingJoined tells whether a coping strip is joined from parts; copingAcross, whether
// it is cut in one across the fabric; copingAlong, along the selvage.
func copingJoined(q *quilt, n names) bool { return joined(q, n.with(copingBorder)) }

func copingAcross(q *quilt, n names) bool {
	return !copingJoined(q, n) && q.sheet.Coping.Fabric.Pick == "crosswise"
}

func copingAlong(q *quilt, n names) bool { return !copingJoined(q, n) && !copingAcross(q, n) }

// copingBorder is the border of which the coping strips' pieces are.
var copingBorder = names{"border": "0"}

// everyCopingJoined is each coping strip that is joined from parts.
func everyCopingJoined(q *quilt, outer names) []names {
	var all []names
	for _, pair := range copedPair(q, outer) {
		for _, n := range bothEdges(q, pair) {
			if n = pair.with(n); copingJoined(q, n) {
				all = append(all, n)
			}
		}
	}
	return all
}

// copedPair are the edges that get coping strips, once; none where there are none.
func copedPair(q *quilt, outer names) []names {
	if q.plan.Coping == nil {
		return nil
	}
	e := q.plan.Coping.Edges
	n := names{"edges": string(e), "pair": pairs[e].words, "along": copedAlong[e],
		"copedTo": "the size that you planned", "copedFor": "the size of the center"}
	if anyPrint(q, outer) {
		n["copedTo"], n["copedFor"] = "a size on which the print comes out even", "whether the print meets at the corners"
	}
	return []names{n}
}

// copedAlong is the direction in which strips on these edges make the center grow.
var copedAlong = map[calc.Edges]string{calc.Sides: "width", calc.TopBottom: "length"}

// coped takes what the center measures with its coping strips on, once it is entered.
func coped(plan calc.Plan, measured map[string]string) (calc.Plan, error) {
	if plan.Coping == nil {
		return plan, nil
	}
	v := measured["coped-"+copedAlong[plan.Coping.Edges]]
	if v == "" {
		return plan, nil
	}
	l, err := calc.ParseLength(v, plan.Unit)
	if err != nil {
		return plan, err
	}
	size := plan.Center
	if plan.Coping.Edges == calc.Sides {
		size.Width = l
	} else {
		size.Length = l
	}
	return plan.WithCoped(size)
}

func (q *quilt) copingStrip() Number {
	c := q.sheet.Coping
	return Number{Name: "cut, wide × long", Figures: []calc.Figure{c.CutWidth, c.CutLength},
		How: fmt.Sprintf("Both strips together add %s to the center, each its half and two seam allowances; as long as the center's side.", c.Total.Exactly())}
}
