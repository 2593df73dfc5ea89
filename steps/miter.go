package steps

// Equal bands miter at 45 degrees: fold first, then one line. Unequal bands miter
// at two angles that add to 90: draw on each tail first, then fold line on line.
var miter = stageRow{"miter", "Miter", []stepRow{{
	id: "corner-{corner}", title: "Corner {corner}, {place}", where: "corner {corner}", round: everyCorner,
	measures: []measureRow{
		{id: "look-{corner}", label: "What you see", tick: "miter.{corner}.looked", options: looks},
		{id: "miss-{corner}", label: "They miss by", expect: "miss", tick: "miter.{corner}.looked"},
	},
	ticks: []turnRow{{nil, []tickRow{
		{id: "miter.{corner}.folded", when: equalBands, label: "Folded and pinned", title: "Fold the corner",
			say:    "Fold the center on the diagonal, tails right sides together. Match edges and stripes, and pin.",
			why:    "Both seams lie on each other, and the fold runs straight into the dot.",
			needs:  "sew.{side}.sewn sew.{end}.sewn",
			number: "angle", kind: "corner", act: "fold"},
		{id: "miter.{corner}.turned", when: equalBands, label: "Dot cleared", title: "Clear the dot",
			say:    "Turn the seam allowance at the dot out of the way, and pin it.",
			why:    "An allowance caught in the miter makes a pleat.",
			needs:  "miter.{corner}.folded",
			number: "seam", kind: "corner", act: "turn"},
		{id: "miter.{corner}.lined", when: equalBands, label: "Line drawn", title: "Draw the line",
			say:     "Ruler's 45-degree line on the stitching, edge at the last stitch. Draw to the outer edge.",
			why:     "The line goes on from the fold, from the dot to the raw outer edge.",
			needs:   "miter.{corner}.turned",
			caution: "marker", number: "line", kind: "corner", act: "line"},

		{id: "miter.{corner}.turned", when: unequalBands, label: "Dot cleared", title: "Clear the dot",
			say:    "Turn the seam allowance at the dot out of the way, and pin it.",
			why:    "An allowance caught in the miter makes a pleat.",
			needs:  "sew.{side}.sewn sew.{end}.sewn",
			number: "seam", kind: "corner", act: "turn"},
		{id: "miter.{corner}.linedSide", when: unequalBands, label: "{side} line drawn", title: "Line on the {side} strip",
			say:     "On the wrong side, draw from the dot to the outer edge, at this angle to the seam.",
			why:     "The bands differ, so the two lines do too. Their angles add to 90 degrees.",
			needs:   "miter.{corner}.turned",
			caution: "marker", number: "lineSides", kind: "corner", act: "line-sides"},
		{id: "miter.{corner}.linedEnd", when: unequalBands, label: "{end} line drawn", title: "Line on the {end} strip",
			say:     "On the wrong side, draw from the dot to the outer edge, at this angle to the seam.",
			why:     "The bands differ, so the two lines do too. Their angles add to 90 degrees.",
			needs:   "miter.{corner}.turned",
			caution: "marker", number: "lineTopBottom", kind: "corner", act: "line-topBottom"},
		{id: "miter.{corner}.folded", when: unequalBands, label: "Folded line on line", title: "Fold line on line",
			say:    "Fold the corner, tails right sides together, until one line lies on the other.",
			why:    "Stick a pin through one line: it must come out on the other.",
			needs:  "miter.{corner}.linedSide miter.{corner}.linedEnd",
			number: "miterSeam", kind: "corner", act: "match"},

		{id: "miter.{corner}.pinned", when: equalBands, label: "Line pinned", title: "Pin the line",
			say:    "Pin across the line. Each pin comes out on the same stripe beneath.",
			why:    "Stripes that meet at the pins meet in the seam.",
			needs:  "miter.{corner}.lined",
			number: "line", kind: "corner", act: "pin"},
		{id: "miter.{corner}.pinned", when: unequalBands, label: "Line pinned", title: "Pin the line",
			say:    "Pin across the line. Each pin comes out on the line beneath.",
			why:    "Lines that meet at the pins meet in the seam.",
			needs:  "miter.{corner}.folded",
			number: "line", kind: "corner", act: "pin"},
		{id: "miter.{corner}.sewn", label: "Miter sewn", title: "Sew the miter",
			say:     "Start at the dot. Sew the line to the outer edge, and backstitch at both ends.",
			why:     "Sewn outwards, any fullness runs off the edge instead of into the corner.",
			needs:   "miter.{corner}.pinned",
			caution: "pins", number: "line", kind: "corner", act: "sew"},
		{id: "miter.{corner}.looked", label: "It lies flat, stripes meet", title: "Open it and look",
			say:    "Open the corner. No pucker, no gap, stripes meet, and it lies flat.",
			why:    "If it is not right, unpick: before the trim nothing is lost.",
			needs:  "miter.{corner}.sewn",
			number: "seen", kind: "corner", act: "look"},
		{id: "miter.{corner}.trimmed", label: "Tails trimmed", title: "Trim the tails",
			say:     "Trim both tails a seam allowance beyond the stitching.",
			why:     "Only a corner that was looked at is trimmed.",
			needs:   "miter.{corner}.looked",
			caution: "cutter", cuts: true, number: "seam", kind: "corner", act: "trim"},
	}}},
}}}

// What is seen at a corner before its trim; miss goes with how far.
const (
	lookFlat   = "flat"
	lookPucker = "pucker"
	lookGap    = "gap"
	lookMiss   = "miss"
)

func looks(*quilt) []Option {
	return []Option{{lookFlat, "It lies flat"}, {lookPucker, "A pucker"}, {lookGap, "A gap"}, {lookMiss, "Stripes miss"}}
}
