package steps

// needsWhole is what a band must be before it can be marked: its one strip cut and
// its inner edge known, or all its seams pressed.
const needsWhole = "cut.*.{edge}.inner band.*.{edge}.pressed"

var cut = stageRow{"cut", "Cut", []stepRow{
	{
		id: "cloth-{border}", title: "{name}: the cloth", where: "{name}", round: everyBorder,
		ticks: []turnRow{{nil, []tickRow{
			{id: "cloth.{border}.pressed", label: "Cloth pressed", title: "Press the cloth",
				say:     "Press the cloth flat. Find the straight grain along the selvage.",
				why:     "A strip off the grain stretches, and its stripe wanders.",
				caution: "iron", number: "cloth", kind: "cloth", act: "ready"},
			{id: "cloth.{border}.line", when: striped, label: "Line of the stripe chosen", title: "Choose the line",
				say:    "Choose one line of the stripe. Every strip of this border starts on it.",
				why:    "Strips that start on the same line meet in the miter; others jump.",
				needs:  "cloth.{border}.pressed",
				number: "stripe", kind: "cloth", act: "line"},
		}}},
	},
	{
		id: "cut-{border}-{edges}", title: "{name}: {pair}", where: "{name}", round: everyPair,
		ticks: []turnRow{{bothEdges, []tickRow{
			{id: "cut.{border}.{edge}.measured", when: striped, label: "{edge} strip measured", title: "Measure the {edge} strip",
				say:    "Mark width and length on the cloth, starting on the chosen line of the stripe.",
				why:    "The length crosses the neighbouring border at both ends, with some to spare.",
				needs:  "size.settled cloth.{border}.line",
				number: "laid", kind: "strip", act: "measure"},
			{id: "cut.{border}.{edge}.measured", when: plain, label: "{edge} strip measured", title: "Measure the {edge} strip",
				say:    "Mark width and length on the cloth, along the grain.",
				why:    "The length crosses the neighbouring border at both ends, with some to spare.",
				needs:  "size.settled cloth.{border}.pressed",
				number: "laid", kind: "strip", act: "measure"},
			{id: "cut.{border}.{edge}.cut", label: "{edge} strip cut", title: "Cut the {edge} strip",
				say:     "Measure once more. Hold the ruler down and cut.",
				why:     "A strip can be trimmed later, never lengthened.",
				needs:   "cut.{border}.{edge}.measured",
				caution: "cutter", cuts: true, number: "strip", kind: "strip", act: "cut"},
			{id: "cut.{border}.{edge}.inner", label: "{edge} strip's inner edge marked", title: "Mark the inner edge",
				say:    "Chalk the edge that goes towards the center, on the wrong side.",
				why:    "So that no strip gets turned round, and every stripe starts on the same line.",
				needs:  "cut.{border}.{edge}.cut",
				number: "strip", kind: "strip", act: "inner"},
		}}},
	},
	{
		id: "band-{border}", title: "{name} to {nextName}", where: "{name} to {nextName}", round: everySeam,
		ticks: []turnRow{{everyEdge, []tickRow{
			{id: "band.{border}.{edge}.sewn", label: "{edge} band: seam sewn", title: "Sew the {edge} band",
				say:     "Match the middles, right sides together, both inner edges the same way. Sew the whole length.",
				why:     "Borders sewn together first are then handled, and mitered, as one strip.",
				needs:   "cut.{border}.{edge}.inner cut.{next}.{edge}.inner",
				caution: "needle", number: "seam", kind: "band", act: "sew"},
			{id: "band.{border}.{edge}.pressed", label: "{edge} band: seam pressed", title: "Press the {edge} band",
				say:     "Press the seam flat, then outwards, the same way on all four bands.",
				why:     "Seams that lie the same way fold into each other at the miter.",
				needs:   "band.{border}.{edge}.sewn",
				caution: "iron", kind: "band", act: "press"},
		}}},
	},
}}
