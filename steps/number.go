package steps

import (
	"fmt"
	"slices"
	"strings"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// A reckoning gives a tick its numbers; the first is the one it is worked to.
type reckoning func(*quilt, names) []Number

var numbers = map[string]reckoning{
	"center": func(q *quilt, _ names) []Number {
		return []Number{{Name: "center, wide × long", Figures: size(q.sheet.Pieced), How: "As planned, raw edge to raw edge."}}
	},
	"width": func(q *quilt, _ names) []Number {
		return []Number{{Name: "width, as planned", Figures: one(q.nearest(q.settled.planned.Width)), How: "From the plan, raw edge to raw edge."}}
	},
	"length": func(q *quilt, _ names) []Number {
		return []Number{{Name: "length, as planned", Figures: one(q.nearest(q.settled.planned.Length)), How: "From the plan, raw edge to raw edge."}}
	},
	"diagonal": func(q *quilt, _ names) []Number {
		w, l := q.nearest(q.settled.planned.Width), q.nearest(q.settled.planned.Length)
		return []Number{{Name: "each diagonal", Figures: one(q.nearest(calc.Hypot(w.Length, l.Length))),
			How: fmt.Sprintf("√(%s² + %s²): the diagonal of a true rectangle.", w.Bare(), l.Bare())}}
	},
	"square": func(*quilt, names) []Number { return []Number{{Name: "at the corner", Text: "90°"}} },
	"settled": func(q *quilt, _ names) []Number {
		if q.plan.Coping != nil {
			return []Number{{Name: "center, wide × long", Figures: size(q.sheet.Pieced), How: q.settled.how()}}
		}
		return []Number{{Name: "build on, wide × long", Figures: size(q.sheet.Center), How: q.settled.how()}}
	},
	"coping":      func(q *quilt, _ names) []Number { return []Number{q.copingStrip()} },
	"copingParts": func(q *quilt, n names) []Number { return q.parts(n.with(copingBorder)) },
	"copingJoins": func(q *quilt, n names) []Number { return q.joins(len(q.pieces(0, n["edge"])) - 1) },
	"copingLength": func(q *quilt, _ names) []Number {
		return []Number{{Name: "the edge", Figures: one(q.sheet.Coping.CutLength), How: "The center's side, raw edge to raw edge."}}
	},
	"coped": func(q *quilt, _ names) []Number {
		return []Number{{Name: "build on, wide × long", Figures: size(q.sheet.Center),
			How: q.sheet.HowCoped()}}
	},
	"fabric": func(q *quilt, n names) []Number { return q.fabric(n) },
	"usable": func(q *quilt, n names) []Number { return q.usable(n) },
	"copingUsable": func(q *quilt, n names) []Number {
		return q.usableOf(calc.UsualWidth(q.plan.Unit), calc.UsualEven(q.plan.Unit))
	},
	"stripe": func(q *quilt, n names) []Number {
		border := n.number("border")
		numbers := append(q.begins(border, calc.Sides), q.linesToChalk(border)...)
		return append([]Number{{Name: "repeat of the stripe", Figures: one(q.nearest(q.plan.Borders[border-1].Stripe)), How: "From the plan."}}, numbers...)
	},
	"parts": func(q *quilt, n names) []Number { return q.parts(n) },
	"joins": func(q *quilt, n names) []Number {
		return q.joins(len(q.pieces(n.number("border"), n["edge"])) - 1)
	},
	"strip":     func(q *quilt, n names) []Number { return q.strip(n) },
	"stripCut":  func(q *quilt, n names) []Number { return q.strip(n)[:1] },
	"laid":      func(q *quilt, n names) []Number { return append(q.strip(n)[:1], q.laid(n)...) },
	"placed":    func(q *quilt, n names) []Number { return q.placed(n) },
	"onPrint":   func(q *quilt, n names) []Number { return q.onPrint(n) },
	"seam":      func(q *quilt, _ names) []Number { return []Number{q.seam()} },
	"toEnd":     func(q *quilt, n names) []Number { return []Number{q.toEnd(n)} },
	"halfStrip": func(q *quilt, n names) []Number { return append([]Number{q.halfStrip(n)}, q.onMiddle(n)...) },
	"test":      func(q *quilt, _ names) []Number { return q.test() },
	"stitch":    func(q *quilt, _ names) []Number { return []Number{stitch(), q.seam()} },
	"overlap": func(q *quilt, n names) []Number {
		return []Number{{Name: "overlap, the strip's width", Figures: one(q.stripOf(n.number("border"), n.edges()).CutWidth), How: "Both ways: the two ends cross in a square."}}
	},
	"joinsSeen":     func(q *quilt, n names) []Number { return q.joins(len(q.pieces(n.number("border"), n["edge"])) - 1)[:1] },
	"seamAndStitch": func(q *quilt, _ names) []Number { return []Number{q.seam(), stitch()} },
	"bandWidth": func(q *quilt, n names) []Number {
		return []Number{{Name: "band, raw edge to raw edge", Figures: one(q.sheet.Bands.On(n.edges()).Cut), How: "All borders of this edge sewn together: finished, and an allowance on either side."}}
	},
	"angle": func(q *quilt, _ names) []Number { return []Number{q.angle(calc.Sides)} },
	"line": func(q *quilt, _ names) []Number {
		e := q.shorterLine()
		return []Number{q.line(e), q.angle(e)}
	},
	"lineOver": func(q *quilt, n names) []Number { return []Number{q.line(over(n)), q.angle(over(n))} },
	"lineOverAndStitch": func(q *quilt, n names) []Number {
		return []Number{q.line(over(n)), stitch()}
	},
	"lineSides": func(q *quilt, _ names) []Number {
		return []Number{q.outAlong(calc.Sides), q.line(calc.Sides), q.angle(calc.Sides)}
	},
	"lineTopBottom": func(q *quilt, _ names) []Number {
		return []Number{q.outAlong(calc.TopBottom), q.line(calc.TopBottom), q.angle(calc.TopBottom)}
	},
	"miterSeam": func(q *quilt, _ names) []Number {
		return []Number{{Name: "miter, finished", Figures: one(q.sheet.Corner.FinishedLine), How: q.sheet.HowMiter()}}
	},
	"seen": func(q *quilt, n names) []Number {
		what, _, _ := strings.Cut(n["meet"], " ")
		if missed := q.missed(); missed != "" && what == "prints" {
			return []Number{{Name: "prints miss by", Text: missed, How: "Reckoned: no way to center this print brings it nearer."}, {Name: "give or take", Figures: one(q.nearest(q.plan.Limits.Seen)), How: q.howSeen()}}
		}
		return q.seen(what)
	},
	"topWidth": func(q *quilt, _ names) []Number {
		return []Number{{Name: "width, raw", Figures: one(q.sheet.Raw.Width), How: q.sheet.HowRaw(calc.Sides)}}
	},
	"topLength": func(q *quilt, _ names) []Number {
		return []Number{{Name: "length, raw", Figures: one(q.sheet.Raw.Length), How: q.sheet.HowRaw(calc.TopBottom)}}
	},
	"topDiagonal": func(q *quilt, _ names) []Number {
		w, l := q.sheet.Raw.Width, q.sheet.Raw.Length
		return []Number{{Name: "each diagonal", Figures: one(q.nearest(calc.Hypot(w.Length, l.Length))),
			How: fmt.Sprintf("√(%s² + %s²): the diagonal of a true rectangle.", w.Bare(), l.Bare())}}
	},
}

func one(f calc.Figure) []calc.Figure { return []calc.Figure{f} }
func size(a calc.Area) []calc.Figure  { return []calc.Figure{a.Width, a.Length} }

// seen is by how much what must meet at a miter may miss; nothing where nothing must.
func (q *quilt) seen(what string) []Number {
	if what == "" {
		return nil
	}
	return []Number{{Name: what + " may miss by", Figures: one(q.nearest(q.plan.Limits.Seen)), How: q.howSeen()}}
}

// howSeen is where the plan's limit of what is seen comes from.
func (q *quilt) howSeen() string {
	if q.plan.Limits.Seen.Equal(calc.DefaultLimits(q.plan.Unit).Seen) {
		return "Common practice: more than this is seen."
	}
	return "From your plan."
}

func (q *quilt) nearest(l calc.Length) calc.Figure {
	return calc.Figure{Length: l, Unit: q.plan.Unit, Rounding: calc.Nearest}
}

func (q *quilt) seam() Number {
	n := Number{Name: "seam allowance", Figures: one(q.sheet.Seam), How: "From the plan."}
	if told := q.sheet.Seam.Exactly(); told != q.sheet.Seam.Shown() {
		n.Figures, n.Text = nil, told
	}
	return n
}

func (q *quilt) toEnd(n names) Number {
	return Number{Name: "middle to end", Figures: one(q.sheet.Marks.On(n.edges()).ToEnd),
		How: q.sheet.HowToEnd(n.edges())}
}

// stripOf is the sheet's strip of a border on a pair of edges.
func (q *quilt) stripOf(border int, e calc.Edges) calc.Strip {
	for _, s := range q.sheet.Strips {
		if s.Border == border && s.Edges == e {
			return s
		}
	}
	return calc.Strip{}
}

func (q *quilt) strip(n names) []Number {
	e := n.edges()
	s := q.stripOf(n.number("border"), e)
	return []Number{
		{Name: "cut, wide × long", Figures: []calc.Figure{s.CutWidth, s.CutLength}, How: q.sheet.HowCutLength(q.plan, s)},
		{Name: "least length", Figures: one(s.LeastLength), How: "The shortest that still covers its miter, centered: " + q.sheet.HowLeast(q.plan, s)},
	}
}

func (q *quilt) halfStrip(n names) Number {
	s := q.stripOf(max(n.number("border"), 1), n.edges())
	return Number{Name: "end to middle, about", Figures: one(q.nearest(s.CutLength.Length.Half())),
		How: fmt.Sprintf("Half the cut length: %s ÷ 2.", s.CutLength.Bare())}
}

// fabric is how much the strips of a border take, and how many there are.
func (q *quilt) fabric(n names) []Number {
	strips := Number{Name: "strips to cut", Text: "4",
		How: fmt.Sprintf("Two for %s, two for %s.", pairs[calc.Sides].words, pairs[calc.TopBottom].words)}
	need := q.sheet.Fabric[n.number("border")-1]
	way := need.Picked()
	if way == nil {
		return []Number{strips}
	}
	return []Number{{Name: "of fabric, " + need.Words(), Figures: one(*way.Length),
		How: fmt.Sprintf("As the cutting page lays the strips; it takes at least this much. To buy: %s.", way.Buy.Shown())}, strips}
}

// usable is how wide a border's fabric must be between its selvages, and what squaring
// its ends may take.
func (q *quilt) usable(n names) []Number {
	var borders []calc.Border
	for i, b := range q.plan.Borders {
		if q.firstFrom(i) == n.number("from") {
			borders = append(borders, b)
		}
	}
	width, even := borders[0].Fabric.UsableWidth, borders[0].Fabric.Even
	for _, b := range borders {
		if b.Fabric.UsableWidth.Less(width) {
			width = b.Fabric.UsableWidth
		}
		if even.Less(b.Fabric.Even) {
			even = b.Fabric.Even
		}
	}
	return q.usableOf(width, even)
}

func (q *quilt) usableOf(width, even calc.Length) []Number {
	return []Number{
		{Name: "end to selvage", Text: "90°"},
		{Name: "usable width that must remain", Figures: one(q.nearest(width)), How: "The plan's usable width. If yours is narrower, change the plan before you cut."},
		{Name: "bought for squaring", Figures: one(q.nearest(even)), How: "From the plan: for both ends together."},
	}
}

// ways are how a border's strips can be cut, with those of other borders where they
// share a fabric; border 0 is the coping strips.
func (q *quilt) ways(border int) calc.Ways {
	if border == 0 { // the coping strips
		return q.sheet.Coping.Fabric
	}
	for _, shared := range q.sheet.Together {
		if slices.Contains(shared.Borders, border) {
			return shared.Ways
		}
	}
	return q.sheet.Fabric[border-1].Ways
}

// way is how they are cut; nil where they do not fit.
func (q *quilt) way(border int) *calc.Way { return q.ways(border).Picked() }

// across tells whether those on these edges are cut across the fabric.
func (q *quilt) across(border int, e calc.Edges) bool {
	if h := q.heads(border); h != "" {
		return !h.AlongOn(e)
	}
	return q.ways(border).Pick == "crosswise"
}

// pieces are what one strip is cut as: one piece, or its parts in their order.
func (q *quilt) pieces(border int, edge string) []calc.Piece {
	var from []calc.Piece
	if q.made[fmt.Sprintf("%d.%s", border, edge)] == earlyParts {
		from = q.early()[border]
	} else if way := q.way(border); way != nil {
		from = way.Layout
	}
	return of(from, border, edge)
}

// of are the pieces of one strip, in their order.
func of(from []calc.Piece, border int, edge string) []calc.Piece {
	var all []calc.Piece
	for _, piece := range from {
		if piece.Border == border && piece.Edge == edge {
			all = append(all, piece)
		}
	}
	slices.SortStableFunc(all, func(a, b calc.Piece) int { return a.Part - b.Part })
	return all
}

// parts are the pieces that a strip is put together from, cut across the fabric.
func (q *quilt) parts(n names) []Number {
	pieces := q.pieces(n.number("border"), n["edge"])
	return q.partsOnPrint(n, pieces, q.partsOf(pieces))
}

// earlyPartsOf are the parts, and earlyJoins the joins, as they were before joins had
// their place.
func earlyPartsOf(q *quilt, n names) []Number {
	return q.partsOf(of(q.early()[n.number("border")], n.number("border"), n["edge"]))
}

func earlyJoins(q *quilt, n names) []Number {
	return q.joins(len(of(q.early()[n.number("border")], n.number("border"), n["edge"])) - 1)
}

// joins are how many joins a strip has, and their seam.
func (q *quilt) joins(joins int) []Number {
	name := "joins in this strip"
	if joins == 1 {
		name = "join in this strip"
	}
	return []Number{{Name: name, Text: fmt.Sprint(joins), How: fmt.Sprintf("%d parts, end to end.", joins+1)}, q.seam(), stitch()}
}

// begins is the line of the stripe that a strip's inner raw edge lies on; nothing
// where the plan has no lines.
func (q *quilt) begins(border int, e calc.Edges) []Number {
	inner, outer, ok := calc.LinesAt(q.plan, border, e)
	if !ok {
		return nil
	}
	return []Number{{Name: "inner raw edge", Text: inner.String(), How: fmt.Sprintf("From the plan's lines. The outer raw edge then lies %s.", outer)}}
}

// onMiddle is what of each print along the strips lies on their middles.
func (q *quilt) onMiddle(n names) []Number {
	var out []Number
	for _, m := range q.sheet.Match {
		if m.Possible {
			out = append(out, Number{Name: "on the middle of " + q.plan.Borders[m.Border-1].Name, Text: "a " + string(m.Centering.On(n.edges())),
				How: fmt.Sprintf("The best of the four ways to center: the prints then miss each other at the corners by %s. %s", m.Mismatch.Shown(), m.How(q.plan))})
		}
	}
	return out
}

// stitch is the length of a stitch that holds at the dots and can be unpicked (cp).
func stitch() Number {
	return Number{Name: "stitch length", Text: "2.0 mm", How: "Common practice: short enough to hold at the dots, long enough to unpick."}
}

// test is the test of the seam: three strips, sewn side by side.
func (q *quilt) test() []Number {
	test, seam := calc.NewSeamTest(q.plan), q.sheet.Seam
	return []Number{{Name: "across all three", Figures: one(test.Across), How: fmt.Sprintf("3 × %s − 4 × %s. The middle one then shows %s: %s − 2 × %s.",
		test.Cut.Bare(), seam.Bare(), test.Middle.Exactly(), test.Cut.Bare(), seam.Bare())}}
}

func (q *quilt) angle(e calc.Edges) Number {
	n := Number{Name: "seam to miter", How: q.sheet.HowAngle(e)}
	angle, format := q.sheet.Corner.AngleSides, "%.4g°"
	if e == calc.TopBottom {
		angle = q.sheet.Corner.AngleTopBottom
	}
	if !q.sheet.Corner.Equal() {
		format = "%.1f°"
	}
	n.Text = fmt.Sprintf(format, float64(angle))
	return n
}

// over are the edges of the strip that lies on top at a folded corner: its line is seen.
func over(n names) calc.Edges {
	edge, _ := draw.FoldedOver(n.number("corner"))
	return pairOf(edge)
}

// shorterLine are the edges whose strips have the shorter line from the dot outward.
func (q *quilt) shorterLine() calc.Edges {
	if drawn := q.sheet.Corner; drawn.DrawnLineTopBottom.Length.Less(drawn.DrawnLineSides.Length) {
		return calc.TopBottom
	}
	return calc.Sides
}

// outAlong is where a line at an angle that no ruler has meets the strip's raw outer edge.
func (q *quilt) outAlong(e calc.Edges) Number {
	f := q.sheet.Corner.OutAlongSides
	if e == calc.TopBottom {
		f = q.sheet.Corner.OutAlongTopBottom
	}
	return Number{Name: "then along the outer edge", Figures: one(f), How: q.sheet.HowOutAlong(e)}
}

func (q *quilt) line(e calc.Edges) Number {
	f := q.sheet.Corner.DrawnLineSides
	if e == calc.TopBottom {
		f = q.sheet.Corner.DrawnLineTopBottom
	}
	return Number{Name: "dot to outer edge", Figures: one(f), How: q.sheet.HowLine(e)}
}
