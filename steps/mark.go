package steps

var mark = stageRow{"mark", "Mark", []stepRow{
	{
		id: "center-middles", title: "Middles of the center",
		groups: []groupRow{{id: "mark.center", label: "Center's four middles marked", title: "Center: all four middles",
			say: "Fold each edge of the center end to end. Mark its middle."}},
		ticks: []tickRows{{everyEdge, []tickRow{{
			id: "mark.center.{edge}", group: "mark.center", as: "{edge}", label: "Middle of the {edge} edge marked", title: "Center: {edge} middle",
			say:     "Fold the center's {edge} edge end to end. Mark its middle.",
			why:     "Everything is measured from the middle, so both tails come out the same.",
			needs:   sizeSettled,
			caution: "marker", number: "toEnd", kind: "center", act: "middle",
		}}}},
	},
	{
		id: "strip-middles", title: "Middles of the strips",
		groups: []groupRow{
			{id: "mark.middles", when: noPrint, label: "All four strips' middles marked", title: "Strips: all four middles",
				say: "Fold each strip end to end. Mark the middle of its inner edge."},
			{id: "mark.middles", when: anyPrint, label: "All four strips' middles found", title: "Strips: all four middles",
				say: "Find the middle that was marked on each print, and see that it shows at the inner edge."},
		},
		ticks: []tickRows{{everyEdgeCarried, []tickRow{{
			id: "mark.{edge}.middle", group: "mark.middles", as: "{edge}", when: noPrint, label: "{edge} strip's middle marked", title: "Strip: {edge} middle",
			say:     "Fold the {edge} strip end to end. Mark the middle of its inner edge.",
			why:     "Marked from one end instead, one tail comes out longer than the other.",
			needs:   needsWhole,
			caution: "marker", number: "halfStrip", kind: "strip", act: "middle",
		}, {
			id: "mark.{edge}.middle", group: "mark.middles", as: "{edge}", when: anyPrint, label: "{edge} strip's middle found", title: "Strip: {edge} middle",
			say:     "Find the middle that was marked on the print. {carry}",
			why:     "It lies on the print. Folding could miss it by a thread, and the corners would show it.",
			needs:   needsWhole,
			caution: "marker", number: "onMiddle", kind: "strip", act: "middle-found",
		}}}},
	},
	{
		id: "strip-ends", title: "Ends on the strips",
		groups: []groupRow{{id: "mark.ends", label: "All strips' ends marked", title: "Strips: both ends of all four",
			say: "From each middle, measure both ways along the inner edge. Mark where the center will end."}},
		ticks: []tickRows{{everyEdge, []tickRow{{
			id: "mark.{edge}.ends", group: "mark.ends", as: "{edge}", label: "{edge} strip's ends marked", title: "Strip: {edge} ends",
			say:     "From the middle, measure both ways along the inner edge. Mark where the center will end.",
			why:     "What lies beyond the marks is the tail. Both tails come out alike.",
			needs:   "mark.{edge}.middle " + sizeSettled,
			caution: "marker", number: "toEnd", kind: "strip", act: "ends",
		}}}},
	},
	{
		id: "dots", title: "Dots",
		groups: []groupRow{{id: "mark.dots", label: "All four dots marked", title: "Dots at all four corners",
			say: "On the center's wrong side, mark each dot one seam allowance in from both edges."}},
		ticks: []tickRows{{everyCorner, []tickRow{{
			id: "mark.dot.{corner}", group: "mark.dots", as: "corner {corner}", label: "Dot at corner {corner} marked", title: "Dot at corner {corner}",
			say:     "On the center's wrong side, mark a dot one seam allowance in from both edges.",
			why:     "Both seams stop in this dot, and the miter starts from it.",
			needs:   sizeSettled,
			caution: "marker", number: "seam", kind: "center", act: "dot",
		}}}},
	},
}}
