package steps

import "cornerwise/calc"

// What pinning an edge needs: its marks, its middle, the dots at both its ends,
// and to know which pair comes first.
const needsMarks = "pair.chosen mark.{edge}.ends mark.center.{edge} mark.dot.{cornerA} mark.dot.{cornerB}"

// sewnEdge is how long an edge came out, once it is sewn.
var sewnEdge = []measureRow{{id: "edge-{edge}", label: "Seam, mark to mark", expect: "edge", tick: "sew.{edge}.checked"}}

// checked and pressed are the acts after sewing, alike for both pairs.
var checked = tickRow{
	id: "sew.{edge}.checked", group: "sew.{edge}", as: "both dots", label: "{edge} edge: both dots checked", title: "Check both dots",
	say:    "Look at both ends. The last stitch lies in the dot, not past it.",
	why:    "Past the dot, the corner puckers: unpick. Short of it, there is a hole: sew on to it.",
	needs:  "sew.{edge}.sewn",
	number: "seam", kind: "edge", act: "check",
}

var pressed = tickRow{
	id: "sew.{edge}.pressed", label: "{edge} edge pressed", title: "Press the {edge} seam",
	say:     "Press the seam toward the border. Set the iron down and lift it.",
	why:     "Pressed outward, the allowance lies under the border and the miter has room.",
	needs:   "sew.{edge}.checked",
	caution: "iron", kind: "edge", act: "press",
}

var sew = stageRow{"sew", "Sew", append(testSeam(testBeforeBorders), []stepRow{
	{
		id: "first-pair", title: "Which pair first",
		measures: []measureRow{{id: "first-pair", label: "Sewn first", tick: "pair.chosen", options: pairOptions}},
		ticks: []tickRows{{nil, []tickRow{{
			id: "pair.chosen", label: "{firstPair} first", title: "Choose the first pair",
			say:  "Sew {longer} first{habit}, or choose the other two.",
			why:  "Both edges of one pair are sewn and pressed before the other pair is begun.",
			kind: "pair", act: "choose",
		}}}},
		round: namedFirst,
	},
	{
		id: "sew-{edge}", title: "{edge} edge", round: firstPair, measures: sewnEdge,
		groups: []groupRow{{id: "sew.{edge}", label: "{edge} edge sewn, dots checked", title: "Pin and sew the {edge} edge",
			say: "Match middles, ends, then pin{heads}. Sew dot to dot, corner {sewnFrom} to {sewnTo}; backstitch. Check both dots."}},
		ticks: []tickRows{{nil, []tickRow{
			{id: "sew.{edge}.pinned", group: "sew.{edge}", as: "pin, ends at", label: "{edge} edge pinned", title: "Pin the {edge} edge",
				say:     "Right sides together, match the middles, then the ends. Then pin between.{headsOut}",
				why:     "Pinned by halves, any fullness spreads out and no end is left over.",
				needs:   needsMarks,
				caution: "pinning", number: "toEnd", kind: "edge", act: "pin"},
			{id: "sew.{edge}.sewn", group: "sew.{edge}", as: "sew", label: "{edge} edge sewn", title: "Sew the {edge} edge",
				say:     "Center on top, no pin in a dot. Sew dot to dot, corner {sewnFrom} to {sewnTo}; backstitch at both.",
				why:     "The dots are on the center's wrong side. Sewn this way, the quilt lies left of the needle.",
				needs:   "sew.{edge}.pinned",
				caution: "pins", number: "seamAndStitch", kind: "edge", act: "sew"},
			checked,
			pressed,
		}}},
	},
	{
		id: "sew-{edge}", title: "{edge} edge", round: secondPair, measures: sewnEdge,
		groups: []groupRow{{id: "sew.{edge}", label: "{edge} edge sewn, dots checked", title: "Pin and sew the {edge} edge",
			say: "Tails away. Pin{heads}, then sew corner {sewnFrom} to {sewnTo}, from hole to hole; backstitch. Check both dots."}},
		ticks: []tickRows{{nil, []tickRow{
			{id: "sew.{edge}.pinned", group: "sew.{edge}", as: "pin, ends at", label: "{edge} edge pinned", title: "Pin the {edge} edge",
				say:     "Fold the first strips' tails away. Match middles, then ends, and pin between.{headsOut}",
				why:     "A tail caught in this seam can't be mitered.",
				needs:   needsMarks + " sew.{firstA}.pressed sew.{firstB}.pressed",
				caution: "pinning", number: "toEnd", kind: "edge", act: "pin"},
			{id: "sew.{edge}.sewn", group: "sew.{edge}", as: "sew", label: "{edge} edge sewn", title: "Sew the {edge} edge",
				say:     "Center on top. Start and stop in the holes of the earlier stitches; backstitch at both.",
				why:     "Sewn from corner {sewnFrom} to {sewnTo}, the quilt lies left of the needle. Two seams that share one hole leave neither pucker nor gap. Take pins out of the dots first.",
				needs:   "sew.{edge}.pinned",
				caution: "pins", number: "seamAndStitch", kind: "edge", act: "sew"},
			checked,
			pressed,
		}}},
	},
}...)}

func namedFirst(q *quilt, _ names) []names {
	n := names{"firstPair": pairs[q.first].words, "edges": string(q.first), "longer": "the two longer edges", "habit": ", as most do"}
	if q.plan.Center.Width.Equal(q.plan.Center.Length) {
		n["longer"], n["habit"] = "left and right", ", as all edges are equal"
	}
	return []names{n}
}

func pairOptions(*quilt) []Option {
	var o []Option
	for _, e := range []calc.Edges{calc.Sides, calc.TopBottom} {
		o = append(o, Option{string(e), sentence(pairs[e].words)})
	}
	return o
}
