package steps

// sizeSettled is what everything after needs: the size to build on, and where the
// center gets coping strips, that they are on.
const sizeSettled = "size.settled coping.measure*"

var squareUp = stageRow{"square-up", "Square up", append([]stepRow{
	{
		id: "press-center", title: "The center",
		ticks: []tickRows{{stayStitched, []tickRow{{
			id: "center.pressed", label: "Center pressed", title: "Press the center",
			say:     "Press the back, then the front. Set the iron down and lift it.",
			why:     "A slid iron stretches the edges, and a stretched edge makes a wavy border.",
			caution: "iron", number: "center", kind: "center", act: "press",
		}, {
			id: "center.steadied", label: "Edges steady", title: "Steady the edges",
			say:     "Tug each edge gently. Where one stretches, starch it and press it dry, or stitch {stay} inside it.",
			why:     "An edge that stretches is cut on the bias. Held now, it can't grow while you measure and sew.",
			needs:   "center.pressed",
			caution: "starch", kind: "center", act: "steady",
		}}}},
	},
	{
		id: "widths", title: "Three widths",
		groups: []groupRow{{id: "widths", label: "Three widths measured", title: "Measure three widths",
			say: "From raw edge to raw edge: near the top, across the middle, near the bottom."}},
		measures: []measureRow{
			{id: "width-top", label: "Near the top", expect: "width", tick: "width.top"},
			{id: "width-middle", label: "Across the middle", expect: "width", tick: "width.middle"},
			{id: "width-bottom", label: "Near the bottom", expect: "width", tick: "width.bottom"},
		},
		ticks: []tickRows{{nearEdges, []tickRow{
			{id: "width.top", group: "widths", as: "near the top", label: "Width near the top measured", title: "Measure near the top",
				say:   "Measure from raw edge to raw edge, about {near} from the top edge.",
				why:   "Edges stretch; the middle does not. Three widths show by how much.",
				needs: "center.pressed", number: "width", kind: "center", act: "width-top"},
			{id: "width.middle", group: "widths", as: "across the middle", label: "Width across the middle measured", title: "Measure across the middle",
				say:   "Measure from raw edge to raw edge, straight across the middle.",
				why:   "Edges stretch; the middle does not. Three widths show by how much.",
				needs: "center.pressed", number: "width", kind: "center", act: "width-middle"},
			{id: "width.bottom", group: "widths", as: "near the bottom", label: "Width near the bottom measured", title: "Measure near the bottom",
				say:   "Measure from raw edge to raw edge, about {near} from the bottom edge.",
				why:   "Edges stretch; the middle does not. Three widths show by how much.",
				needs: "center.pressed", number: "width", kind: "center", act: "width-bottom"},
		}}},
	},
	{
		id: "lengths", title: "Three lengths",
		groups: []groupRow{{id: "lengths", label: "Three lengths measured", title: "Measure three lengths",
			say: "From raw edge to raw edge: near the left, down the middle, near the right."}},
		measures: []measureRow{
			{id: "length-left", label: "Near the left", expect: "length", tick: "length.left"},
			{id: "length-middle", label: "Down the middle", expect: "length", tick: "length.middle"},
			{id: "length-right", label: "Near the right", expect: "length", tick: "length.right"},
		},
		ticks: []tickRows{{nearEdges, []tickRow{
			{id: "length.left", group: "lengths", as: "near the left", label: "Length near the left measured", title: "Measure near the left",
				say:   "Measure from raw edge to raw edge, about {near} from the left edge.",
				why:   "Opposite borders must come out equal, or the top will lean.",
				needs: "center.pressed", number: "length", kind: "center", act: "length-left"},
			{id: "length.middle", group: "lengths", as: "down the middle", label: "Length down the middle measured", title: "Measure down the middle",
				say:   "Measure from raw edge to raw edge, straight down the middle.",
				why:   "Opposite borders must come out equal, or the top will lean.",
				needs: "center.pressed", number: "length", kind: "center", act: "length-middle"},
			{id: "length.right", group: "lengths", as: "near the right", label: "Length near the right measured", title: "Measure near the right",
				say:   "Measure from raw edge to raw edge, about {near} from the right edge.",
				why:   "Opposite borders must come out equal, or the top will lean.",
				needs: "center.pressed", number: "length", kind: "center", act: "length-right"},
		}}},
	},
	{
		id: "diagonals", title: "Two diagonals",
		groups: []groupRow{{id: "diagonals", label: "Both diagonals measured", title: "Measure both diagonals",
			say: "Measure from corner to corner, both ways, tape flat."}},
		measures: []measureRow{
			{id: "diagonal-1", label: "Corner 1 to 3", expect: "diagonal", tick: "diagonal.1"},
			{id: "diagonal-2", label: "Corner 2 to 4", expect: "diagonal", tick: "diagonal.2"},
		},
		ticks: []tickRows{{squareWithin, []tickRow{
			{id: "diagonal.1", group: "diagonals", as: "corner 1 to 3", label: "Corner 1 to 3 measured", title: "Measure corner 1 to 3",
				say:   "Measure from the top left corner to the bottom right corner, tape flat.",
				why:   "Equal diagonals on equal sides make a true rectangle. {within} will do.",
				needs: "center.pressed", number: "diagonal", kind: "center", act: "diagonal-1"},
			{id: "diagonal.2", group: "diagonals", as: "corner 2 to 4", label: "Corner 2 to 4 measured", title: "Measure corner 2 to 4",
				say:   "Measure from the top right corner to the bottom left corner, tape flat.",
				why:   "Equal diagonals on equal sides make a true rectangle. {within} will do.",
				needs: "center.pressed", number: "diagonal", kind: "center", act: "diagonal-2"},
		}}},
	},
	{
		id: "square-corners", title: "Four corners",
		ticks: []tickRows{{everyCorner, []tickRow{{
			id: "square.{corner}.looked", look: true, label: "Corner {corner} checked and chalked", title: "Square corner {corner}",
			say:    "Lay a square ruler on corner {corner}, {place}. Chalk what sticks out beyond it.",
			why:    "Chalk first, cut later: what is cut off the center does not come back.",
			needs:  "center.pressed",
			number: "square", kind: "center", act: "squared",
		}}}},
	},
	{
		id: "true-up", title: "True up",
		ticks: []tickRows{{nil, []tickRow{{
			id: "center.trimmed", label: "Center trimmed true", title: "Trim what sticks out",
			say:     "Trim only plain fabric that sticks out beyond the chalk. If nothing does, cut nothing and go on.",
			why:     "A cut takes the points off blocks and shortens the seams that end there. What eases is not trimmed.",
			needs:   "width.* length.* diagonal.* square.*.looked",
			caution: "cutter", cuts: true, number: "settled", kind: "center", act: "trim",
		}}}},
	},
	{
		id: "settle", title: "The size to build on",
		measures: []measureRow{
			{id: "size-width", label: "Width, if different", expect: "width", tick: "size.settled"},
			{id: "size-length", label: "Length, if different", expect: "length", tick: "size.settled"},
		},
		ticks: []tickRows{{nil, []tickRow{{
			id: "size.settled", label: "Size settled", title: "Settle the size",
			say:   "Check this size against the center. If yours is different now, enter yours.",
			why:   "Every number from here on is worked out from this size, not from the plan's.",
			needs: "center.trimmed", number: "settled", kind: "center", act: "settle",
		}}}},
	},
}, append(testSeam(testBeforeCoping), coping...)...)}
