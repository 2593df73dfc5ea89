package steps

import (
	"fmt"

	"cornerwise/calc"
)

// Coping strips are sewn to the center as it is pieced, before it is what the
// borders are reckoned for: two more strips to cut, from end to end and without dots.
var coping = []stepRow{
	{
		id: "coping-cut", title: "Coping strips: cut", round: copedPair,
		ticks: []tickRows{{bothEdges, []tickRow{
			{id: "coping.{edge}.measured", label: "{edge} coping strip measured", title: "Measure the {edge} strip",
				say:    "Mark the {edge} coping strip on its fabric, along the grain.",
				why:    "Two strips bring the center to a size on which the print comes out even.",
				needs:  "size.settled",
				number: "coping", kind: "coping", act: "measure"},
			{id: "coping.{edge}.cut", label: "{edge} coping strip cut", title: "Cut the {edge} strip",
				say:     "Measure once more. Hold the ruler down and cut.",
				why:     "Its width decides whether the print meets at the corners.",
				needs:   "coping.{edge}.measured",
				caution: "cutter", cuts: true, number: "coping", kind: "coping", act: "cut"},
		}}},
	},
	{
		id: "coping-sew", title: "Coping strips: sew", round: copedPair,
		ticks: []tickRows{{bothEdges, []tickRow{
			{id: "coping.{edge}.pinned", label: "{edge} coping strip pinned", title: "Pin the {edge} strip",
				say:    "Right sides together, match the middles, then the ends. Then pin between.",
				why:    "Pinned by halves, the strip neither stretches the edge nor gathers it.",
				needs:  "coping.{edge}.cut",
				number: "copingLength", kind: "coping", act: "pin"},
			{id: "coping.{edge}.sewn", label: "{edge} coping strip sewn", title: "Sew the {edge} strip",
				say:     "Sew from end to end, the whole length of the edge.",
				why:     "There is no dot here: a coping strip belongs to the center.",
				needs:   "coping.{edge}.pinned",
				caution: "pins", number: "seam", kind: "coping", act: "sew"},
			{id: "coping.{edge}.pressed", label: "{edge} coping strip pressed", title: "Press the {edge} strip",
				say:     "Press the seam toward the strip. Set the iron down and lift it.",
				why:     "A seam not pressed out takes from the size.",
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

// copedPair are the edges that get coping strips, once; none where there are none.
func copedPair(q *quilt, _ names) []names {
	if q.plan.Coping == nil {
		return nil
	}
	e := q.plan.Coping.Edges
	return []names{{"edges": string(e), "pair": pairs[e].words, "along": copedAlong[e]}}
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
