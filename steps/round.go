package steps

import (
	"fmt"
	"strconv"
	"strings"

	"cornerwise/calc"
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

// firstPair are the two edges sewn first.
func firstPair(q *quilt, _ names) []names { return edgesOf(q.first) }

// secondPair are the two edges sewn after them.
func secondPair(q *quilt, _ names) []names {
	all := edgesOf(q.first.Neighbor())
	first := pairs[q.first].edges
	for _, n := range all {
		n["second"], n["firstA"], n["firstB"] = "yes", first[0], first[1]
	}
	return all
}

func everyCorner(*quilt, names) []names {
	var all []names
	for i, c := range corners {
		all = append(all, names{"corner": strconv.Itoa(i + 1), "place": c.place, "side": c.side, "end": c.end})
	}
	return all
}

func everyBorder(q *quilt, _ names) []names {
	var all []names
	for i, b := range q.plan.Borders {
		all = append(all, names{"border": strconv.Itoa(i + 1), "name": b.Name})
	}
	return all
}

// everyPair is each border on the sides, then on top and bottom.
func everyPair(q *quilt, outer names) []names {
	var all []names
	for _, b := range everyBorder(q, outer) {
		for _, e := range []calc.Edges{calc.Sides, calc.TopBottom} {
			all = append(all, b.with(names{"edges": string(e), "pair": pairs[e].words}))
		}
	}
	return all
}

// everySeam is each seam between two borders.
func everySeam(q *quilt, outer names) []names {
	all := everyBorder(q, outer)
	for i := range all[:len(all)-1] {
		all[i]["next"] = fmt.Sprint(i + 2)
		all[i]["nextName"] = all[i+1]["name"]
	}
	return all[:len(all)-1]
}

// squareWithin is once, and tells how far apart the plan lets two diagonals be, however
// long they are.
func squareWithin(q *quilt, _ names) []names {
	if q.plan.Limits.Diagonals.Sign() == 0 {
		return []names{{"within": "Nothing but equal"}}
	}
	return []names{{"within": "Within " + q.nearest(q.plan.Limits.Diagonals).Exactly()}}
}

func equalBands(q *quilt, _ names) bool   { return q.sheet.Corner.Equal() }
func unequalBands(q *quilt, _ names) bool { return !q.sheet.Corner.Equal() }

func striped(q *quilt, n names) bool {
	return q.plan.Borders[n.number("border")-1].Stripe.Sign() > 0
}
func stripedInOne(q *quilt, n names) bool { return striped(q, n) && !joined(q, n) }
func plainInOne(q *quilt, n names) bool   { return !striped(q, n) && !joined(q, n) }

// joined tells whether a strip is put together of parts.
func joined(q *quilt, n names) bool {
	if parts, cut := q.made[n["border"]+"."+n["edge"]]; cut {
		return parts
	}
	return len(q.pieces(n.number("border"), n["edge"])) > 1
}

// everyJoined is each strip that is put together of parts.
func everyJoined(q *quilt, outer names) []names {
	var all []names
	for _, b := range everyBorder(q, outer) {
		for _, e := range everyEdge(q, outer) {
			if n := b.with(e); joined(q, n) {
				all = append(all, n.with(names{"parts": strconv.Itoa(len(q.pieces(n.number("border"), n["edge"])))}))
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
