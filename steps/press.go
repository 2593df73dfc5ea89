package steps

// LastStage is the one after whose last tick all is done.
const LastStage = "press"

var press = stageRow{LastStage, "Press", []stepRow{
	{
		id: "press-{corner}", title: "Corner {corner}, {place}", where: "corner {corner}", round: everyCorner,
		groups: []groupRow{{id: "press.{corner}", label: "Opened and pressed", title: "Open and press",
			say: "From behind, open the miter with the iron's tip, border seams outward. Then press the front."}},
		ticks: []tickRows{{nil, []tickRow{
			{id: "press.{corner}.opened", group: "press.{corner}", as: "open", label: "Seam opened", title: "Open the miter seam",
				say:    "Wrong side up, turn the border seams' allowances outward. Finger the miter's two allowances open.",
				why:    "An open seam splits the thickness, and the corner lies flat.",
				needs:  "miter.{corner}.trimmed",
				number: "seam", kind: "corner", act: "open"},
			{id: "press.{corner}.behind", group: "press.{corner}", as: "from behind", label: "Pressed from behind", title: "Press from behind",
				say:     "Press it with the iron's tip: the open miter first, then the border seams outward.",
				why:     "The miter runs on the bias: set the iron down and lift it, never slide.",
				needs:   "press.{corner}.opened",
				caution: "iron", kind: "corner", act: "behind"},
			{id: "press.{corner}.front", group: "press.{corner}", as: "from the front", label: "Pressed from the front", title: "Press from the front",
				say:     "Turn it right side up and press the corner once more.",
				why:     "The front shows what the back hides: a tuck, or a seam pressed crooked.",
				needs:   "press.{corner}.behind",
				caution: "iron", kind: "corner", act: "front"},
			{id: "press.{corner}.squared", label: "Corner squared", title: "Square the outer corner",
				say:     "Lay a square ruler on the outer corner. Trim the two ears of the miter, one at each edge.",
				why:     "Opened, the miter's allowances reach beyond the raw edges. Trim only what sticks out, never into the miter's end.",
				needs:   "press.{corner}.front",
				caution: "underBlade", cuts: true, number: "square", kind: "corner", act: "square"},
		}}},
	},
	{
		id: "top-widths", title: "The bordered top",
		measures: []measureRow{
			{id: "top-width-top", label: "Near the top", expect: "topWidth", tick: "top.widths"},
			{id: "top-width-middle", label: "Across the middle", expect: "topWidth", tick: "top.widths"},
			{id: "top-width-bottom", label: "Near the bottom", expect: "topWidth", tick: "top.widths"},
		},
		ticks: []tickRows{{nil, []tickRow{{
			id: "top.widths", label: "Three widths measured", title: "Measure three widths",
			say:   "Measure near the top, across the middle and near the bottom.",
			why:   "The number is what the top should measure, raw edge to raw edge.",
			needs: "press.*.front press.*.squared", number: "topWidth", kind: "top", act: "widths",
		}}}},
	},
	{
		id: "top-lengths", title: "The bordered top",
		measures: []measureRow{
			{id: "top-length-left", label: "Near the left", expect: "topLength", tick: "top.lengths"},
			{id: "top-length-middle", label: "Down the middle", expect: "topLength", tick: "top.lengths"},
			{id: "top-length-right", label: "Near the right", expect: "topLength", tick: "top.lengths"},
		},
		ticks: []tickRows{{nil, []tickRow{{
			id: "top.lengths", label: "Three lengths measured", title: "Measure three lengths",
			say:   "Measure near the left, down the middle and near the right.",
			why:   "The number is what the top should measure, raw edge to raw edge.",
			needs: "press.*.front press.*.squared", number: "topLength", kind: "top", act: "lengths",
		}}}},
	},
	{
		id: "top-diagonals", title: "The bordered top",
		measures: []measureRow{
			{id: "top-diagonal-1", label: "Corner 1 to 3", expect: "topDiagonal", tick: "top.diagonals"},
			{id: "top-diagonal-2", label: "Corner 2 to 4", expect: "topDiagonal", tick: "top.diagonals"},
		},
		ticks: []tickRows{{topWithin, []tickRow{{
			id: "top.diagonals", label: "Diagonals measured", title: "Measure both diagonals",
			say:   "Measure corner to corner, both ways. The two should agree.",
			why:   "Equal diagonals make the top square. {within} will do.",
			needs: "press.*.front press.*.squared", number: "topDiagonal", kind: "top", act: "diagonals",
		}}}},
	},
}}
