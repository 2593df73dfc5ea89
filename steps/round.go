package steps

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// names fill in the braces of a row: {edge}, {corner}, {border} and their like.
type names map[string]string

func (n names) fill(s string) string {
	before, rest, found := strings.Cut(s, "{")
	if !found {
		return s
	}
	name, after, _ := strings.Cut(rest, "}")
	return before + n[name] + n.fill(after)
}

func (n names) number(name string) int {
	i, _ := strconv.Atoi(n[name])
	return i
}

func (n names) edges() calc.Edges { return calc.Edges(n["edges"]) }

func (n names) with(more names) names {
	out := make(names, len(n)+len(more))
	for k, v := range n {
		out[k] = v
	}
	for k, v := range more {
		out[k] = v
	}
	return out
}

// A round says how often a row is repeated, and what its names are each time. nil
// is once.
type round func(*quilt, names) []names

func (r round) repeats(q *quilt, outer names) []names {
	if r == nil {
		return []names{outer}
	}
	all := r(q, outer)
	for i := range all {
		all[i] = outer.with(all[i])
	}
	return all
}

// pairs are the two edges of each pair, and what they are called together.
var pairs = map[calc.Edges]struct {
	edges [2]string
	words string
}{
	calc.Sides:     {[2]string{"left", "right"}, "left and right"},
	calc.TopBottom: {[2]string{"top", "bottom"}, "top and bottom"},
}

// corners, clockwise, with the edge of the sides and of top and bottom that meet there.
var corners = [4]struct{ place, side, end string }{
	{"top left", "left", "top"},
	{"top right", "right", "top"},
	{"bottom right", "right", "bottom"},
	{"bottom left", "left", "bottom"},
}

func edgeNames(e calc.Edges, edge string) names {
	n := names{"edge": edge, "edges": string(e)}
	at := 'A'
	first, last := draw.SewnFrom(edge)
	n["sewnFrom"], n["sewnTo"] = strconv.Itoa(first), strconv.Itoa(last)
	if n["pressedTo"] = "outward, away from the center"; e == calc.TopBottom {
		n["pressedTo"] = "inward, toward the center"
	}
	for i, c := range corners {
		if c.side == edge || c.end == edge {
			n["corner"+string(at)] = strconv.Itoa(i + 1)
			at++
		}
	}
	return n
}

func edgesOf(e calc.Edges) []names {
	two := pairs[e].edges
	return []names{edgeNames(e, two[0]), edgeNames(e, two[1])}
}

func everyEdge(*quilt, names) []names {
	return append(edgesOf(calc.Sides), edgesOf(calc.TopBottom)...)
}

// bothEdges are the two edges of the pair that the step is about.
func bothEdges(_ *quilt, outer names) []names { return edgesOf(outer.edges()) }

// bothEdgesPrinted are they with how a strip lies on its fabric: which way, on which line of
// its stripe, and on what of its print.
func bothEdgesPrinted(q *quilt, outer names) []names {
	border := outer.number("border")
	words := names{"grain": "along the grain", "alike": "the print lies the same way on all four sides", "find": "find a motif's middle",
		"miss": "it would miss its neighbor at both corners"}
	if q.across(border, outer.edges()) {
		words["grain"] = "straight across the grain"
	}
	if striped(q, outer) {
		words["alike"], words["start"], words["online"] = "every stripe starts on the same line", "the chosen line", "on the chosen line, "
	}
	if q.centering(border, outer.edges()) == calc.OnGap {
		words["find"], words["gap"] = "find a gap's middle", " A gap lies between two motifs."
	}
	all := bothEdges(q, outer)
	for i := range all {
		all[i] = all[i].with(words)
		if oneWay(q, outer) {
			edge := all[i]["edge"]
			all[i] = all[i].with(q.headed(border, edge))
		}
		if pieces := q.pieces(border, all[i]["edge"]); len(pieces) == 1 && striped(q, outer) {
			line, from := q.lineOf(border, pieces[0])
			all[i]["start"] = fmt.Sprintf("the %s chosen line %s", line, from)
			all[i]["online"] = fmt.Sprintf("on the %s chosen line, ", line)
		}
	}
	return all
}

// centering is what of the print along a border's strips lies on the middle of those on
// these edges: a motif by habit, where the prints can't meet anyway.
func (q *quilt) centering(border int, e calc.Edges) calc.Centering {
	for _, m := range q.sheet.Match {
		if m.Border == border && m.Possible {
			return m.Centering.On(e)
		}
	}
	return calc.OnMotif
}

// everyEdgeCarried is each edge, and where its band's middle is marked.
func everyEdgeCarried(q *quilt, outer names) []names {
	carry := "Check that it still shows at the inner edge."
	if len(q.plan.Borders) > 1 && !q.prints(0) {
		carry = "Lift the allowance over it, and carry it square across to the inner edge."
	}
	all := everyEdge(q, outer)
	for i := range all {
		all[i]["carry"] = carry
	}
	return all
}

// firstPair are the two edges sewn first.
func firstPair(q *quilt, _ names) []names {
	all := edgesOf(q.first)
	for i := range all {
		all[i] = all[i].with(q.headedOnEdge())
	}
	return all
}

// secondPair are the two edges sewn after them.
func secondPair(q *quilt, _ names) []names {
	all := edgesOf(q.first.Neighbor())
	first := pairs[q.first].edges
	for i, n := range all {
		n["second"], n["firstA"], n["firstB"] = "yes", first[0], first[1]
		all[i] = n.with(q.headedOnEdge())
	}
	return all
}

func everyCorner(*quilt, names) []names {
	var all []names
	for i, c := range corners {
		over, _ := draw.FoldedOver(i + 1)
		all = append(all, names{"corner": strconv.Itoa(i + 1), "place": c.place, "side": c.side, "end": c.end, "over": over})
	}
	return all
}

func everyBorder(q *quilt, _ names) []names {
	var all []names
	for i, b := range q.plan.Borders {
		all = append(all, names{"border": strconv.Itoa(i + 1), "name": b.Name, "from": strconv.Itoa(q.firstFrom(i))})
	}
	return all
}

// firstFrom is the first border, 1 being the innermost, that is cut from the same fabric as
// border i, counted from 0.
func (q *quilt) firstFrom(i int) int { return q.plan.FirstOfFabric(i) + 1 }

func firstOfFabric(_ *quilt, n names) bool { return n["from"] == n["border"] }

// everyPair is each border on the sides, then on top and bottom.
func everyPair(q *quilt, outer names) []names {
	var all []names
	for _, b := range everyBorder(q, outer) {
		for _, e := range []calc.Edges{calc.Sides, calc.TopBottom} {
			both := b.with(q.headedBoth(b.number("border"), e))
			all = append(all, both.with(names{"edges": string(e), "pair": pairs[e].words}))
		}
	}
	return all
}

// everySeamPair is each seam between two borders, on the sides, then on top and bottom, and
// the strips that must be folded to find their middles before it is pinned. Every second seam
// is sewn the other way.
func everySeamPair(q *quilt, outer names) []names {
	var all []names
	for _, seam := range q.seams(outer) {
		for _, e := range []calc.Edges{calc.Sides, calc.TopBottom} {
			all = append(all, seam.with(names{"edges": string(e), "pair": pairs[e].words}))
		}
	}
	return all
}

func (q *quilt) seams(outer names) []names {
	all := everyBorder(q, outer)
	for i := range all[:len(all)-1] {
		all[i]["next"] = fmt.Sprint(i + 2)
		all[i]["nextName"], all[i]["previous"] = all[i+1]["name"], fmt.Sprint(i)
		switch inner, outer := q.prints(i), q.prints(i+1); {
		case !inner && !outer:
			all[i]["fold"] = "Fold each strip for its middle. "
		case inner != outer:
			all[i]["fold"] = "Fold the plain strip for its middle. "
		}
		all[i]["onTop"] = "On top, wrong side up, lies " + all[i+1]["name"] + "."
		if i%2 == 1 {
			all[i]["onTop"] = "On top, wrong side up, lies " + all[i]["name"] + ": this seam starts from the other end."
		}
		if i > 0 {
			all[i]["fromEnd"] = ", from the end where the last seam stopped"
			all[i]["whyEnd"] = "Seams all sewn from one end pull a band into a curve. "
		}
	}
	return all[:len(all)-1]
}

// lastSeam is the seam that makes a band whole.
func lastSeam(q *quilt, n names) bool { return n.number("next") == len(q.plan.Borders) }

func lastSeamEdges(q *quilt, outer names) []names {
	if !lastSeam(q, outer) {
		return nil
	}
	return bothEdges(q, outer)
}

// stayStitched is once, and tells how far in from the edge a stitch holds it: half a seam
// allowance, so that no border shows it.
func stayStitched(q *quilt, _ names) []names {
	return []names{{"stay": q.nearest(q.plan.Seam.Half()).Shown()}}
}

// nearEdges is once, and tells how far in "near an edge" is.
func nearEdges(q *quilt, _ names) []names {
	return []names{{"near": calc.NearEdge(q.plan).Exactly()}}
}

// everyMiter is each corner, and what must meet there.
func everyMiter(q *quilt, outer names) []names {
	var words names
	meet := q.plan.Meet()
	if !q.plan.BordersAlike() { // what runs along them meets by chance only
		meet = ""
	}
	fold := "edges and " + meet
	if len(q.plan.Borders) > 1 {
		fold = "seams and " + meet
	}
	missed := q.missed()
	switch {
	case !equalBands(q, outer):
	case meet == "prints" && missed != "":
		words = names{"meet": "prints miss by " + missed + " as reckoned", "fold": "the edges",
			"each": "Keep the raw edges level: this print can't meet.", "meetPinned": "How far the print misses, the plan told before it was cut."}
	case meet == "prints":
		words = names{"meet": "prints meet", "fold": fold,
			"each": "Each pin comes out at the same place of the print.", "meetPinned": "Prints that meet at the pins meet in the seam."}
	case meet == "stripes":
		words = names{"meet": "stripes meet", "fold": fold,
			"each": "Each pin comes out on the same stripe beneath.", "meetPinned": "Stripes that meet at the pins meet in the seam."}
		if missed != "" {
			words["meet"] = "stripes meet, prints miss by " + missed
		}
	case meet == "seams":
		words = names{"meet": "seams meet", "fold": "edges and seams",
			"each": "A pin in each seam comes out in the same seam beneath.", "meetPinned": "Seams that meet at the pins meet in the corner."}
	default:
		words = names{"fold": "the edges", "each": "Keep the raw edges level.",
			"meetPinned": "Pinned across, the two layers can't slide on each other."}
	}
	if words["meet"] != "" {
		words["comma"] = ", "
	}
	all := everyCorner(q, outer)
	for i := range all {
		all[i] = all[i].with(words)
	}
	return all
}

// missed is how far a print along the strips misses at the miters as it is reckoned, where
// that is seen; else "".
func (q *quilt) missed() string {
	for _, m := range q.sheet.Match {
		if m.Possible && m.Seen() {
			return m.Mismatch.Shown()
		}
	}
	return ""
}

// squareWithin is once, and tells how far apart the diagonals of this center may be.
func squareWithin(q *quilt, _ names) []names {
	return q.within(q.settled.planned)
}

// topWithin is squareWithin for the bordered top.
func topWithin(q *quilt, _ names) []names {
	return q.within(calc.Size{Width: q.sheet.Raw.Width.Length, Length: q.sheet.Raw.Length.Length})
}

func (q *quilt) within(s calc.Size) []names {
	may := q.plan.Limits.Square(calc.Hypot(s.Width, s.Length))
	if may.Sign() == 0 {
		return []names{{"within": "Nothing but equal"}}
	}
	return []names{{"within": "Within " + q.nearest(may).Exactly()}}
}

func equalBands(q *quilt, _ names) bool   { return q.sheet.Corner.Equal() }
func unequalBands(q *quilt, _ names) bool { return !q.sheet.Corner.Equal() }

func striped(q *quilt, n names) bool {
	return q.plan.Borders[n.number("border")-1].Stripe.Sign() > 0
}

// printed tells whether a print runs along a strip, so that its middle lies on it.
func printed(q *quilt, n names) bool { return q.prints(n.number("border") - 1) }

func (q *quilt) prints(i int) bool { return q.plan.Borders[i].Motif.Sign() > 0 }

func printedInOne(q *quilt, n names) bool  { return printed(q, n) && !joined(q, n) }
func printedJoined(q *quilt, n names) bool { return printed(q, n) && joined(q, n) }
func stripedInOne(q *quilt, n names) bool  { return striped(q, n) && !printed(q, n) && !joined(q, n) }
func plainInOne(q *quilt, n names) bool    { return !striped(q, n) && !printed(q, n) && !joined(q, n) }
func plainJoined(q *quilt, n names) bool   { return !printed(q, n) && joined(q, n) }

// joinedPair tells whether both strips of a pair without a print are joined, and so have their
// width.
func joinedPair(q *quilt, n names) bool {
	return (stripedOnly(q, n) || noInner(q, n)) && !slices.ContainsFunc(bothEdges(q, n), func(e names) bool { return !joined(q, n.with(e)) })
}
func stripedPair(q *quilt, n names) bool { return stripedOnly(q, n) && !joinedPair(q, n) }
func plainPair(q *quilt, n names) bool   { return noInner(q, n) && !joinedPair(q, n) }

func notPlainJoined(q *quilt, n names) bool { return !plainJoined(q, n) }

// withInner is once, and tells where on the stripe's line an inner edge lies, where the plan
// has lines.
func withInner(q *quilt, outer names) []names {
	n := names{"endCut": q.squaredEnd(outer.number("border"))}
	if inner, _, ok := calc.LinesAt(q.plan, outer.number("border"), calc.Sides); ok {
		n["inner"] = ": " + inner.String()
	}
	return []names{n}
}

// hasInner tells whether it matters which edge of a strip goes to the center.
func hasInner(q *quilt, n names) bool { return striped(q, n) || printed(q, n) || oneWay(q, n) }
func noInner(q *quilt, n names) bool  { return !hasInner(q, n) }

func stripedOnly(q *quilt, n names) bool { return striped(q, n) && !printed(q, n) }

func anyPrint(q *quilt, _ names) bool {
	return slices.ContainsFunc(q.plan.Borders, func(b calc.Border) bool { return b.Motif.Sign() > 0 })
}
func noPrint(q *quilt, n names) bool { return !anyPrint(q, n) }

// joined tells whether a strip is put together of parts.
func joined(q *quilt, n names) bool {
	if as, cut := q.made[n["border"]+"."+n["edge"]]; cut {
		return as != inOne
	}
	return len(q.pieces(n.number("border"), n["edge"])) > 1
}

// everyJoined is each strip that is put together of parts.
func everyJoined(q *quilt, outer names) []names {
	var all []names
	for _, b := range everyBorder(q, outer) {
		for _, e := range everyEdge(q, outer) {
			if n := b.with(e); joined(q, n) {
				match, goesOn := "", ""
				switch {
				case printed(q, n):
					match, goesOn = "the print running on, ", ", and lets a print go on"
				case striped(q, n):
					match = "line on line, "
				case oneWay(q, n):
					match = "heads alike, "
				}
				if oneWay(q, n) {
					n["heads"], n["that"] = ", all heads point one way", " that all heads point one way"
				}
				rest := ""
				if printed(q, n) {
					n["placed"], rest = " and placed", " So placed, the print runs on over the joins."
				}
				if q.sharesRows(n.number("border"), n["edge"]) {
					rest = " Keep and label what is left of a row: another strip needs it."
				}
				if slices.ContainsFunc(q.pieces(n.number("border"), n["edge"]), q.isBeside) {
					rest += " Cut them out beside the strips of the sides: those are still to be cut."
				}
				all = append(all, n.with(names{"match": match, "goesOn": goesOn, "rest": rest, "parts": strconv.Itoa(len(q.pieces(n.number("border"), n["edge"])))}))
			}
		}
	}
	return all
}

func joinedAslant(q *quilt, n names) bool {
	if way := q.way(n.number("border")); way != nil && way.Join != "" {
		return way.Join == "diagonal"
	}
	return q.plan.Borders[n.number("border")-1].Fabric.Join == "diagonal"
}
func joinedStraight(q *quilt, n names) bool { return !joinedAslant(q, n) }
