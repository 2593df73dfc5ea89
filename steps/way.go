package steps

import (
	"fmt"
	"strings"

	"cornerwise/calc"
)

// What is said of a one-way print: which end of the fabric its heads point to, and which edge of
// a strip goes to the center with the heads so.

// heads is where the heads of a border's print point; "" for one that may lie either way, and for
// the coping strips, border 0.
func (q *quilt) heads(border int) calc.Heads {
	if border == 0 {
		return ""
	}
	return q.plan.Borders[border-1].Fabric.Heads
}

func oneWay(q *quilt, n names) bool { return q.heads(n.number("border")) != "" }

// squaredEnd is the end of a fabric that is squared: all is laid from there.
func (q *quilt) squaredEnd(border int) string {
	if way := q.way(border); way != nil {
		switch way.Heads {
		case "start":
			return "the end at its heads"
		case "end":
			return "the end at its feet"
		}
	}
	return "one end"
}

// headed are the words for a strip of a one-way print on an edge.
func (q *quilt) headed(border int, edge string) names {
	h := q.heads(border)
	at := map[calc.Heads]string{calc.Outwards: "at the feet", calc.Inwards: "at the heads"}[h]
	words := names{"alike": fmt.Sprintf("the heads point %s on all four sides", h)}
	if h != calc.Up {
		words["chalk"], words["innerAt"] = ", "+at, ", "+at
		return words
	}
	words["miss"] = "it would lie otherwise than on the strip across from it"
	across := map[string]string{"left": "right", "right": "left", "top": "bottom", "bottom": "top"}[edge]
	words["alike"] += fmt.Sprintf(". On the %s edge the %s strip would lie upside down", across, edge)
	switch edge {
	case "top":
		words["chalk"], words["innerAt"] = ", at the feet", ", at the feet"
	case "bottom":
		words["chalk"], words["innerAt"] = ", at the heads", ", at the heads"
	default: // it is turned over, so its edges are where they will be on the back
		words["upright"], words["chalk"] = ", heads up", ": the "+edge+" one"
		words["innerAt"] = ", heads up the " + across + " one"
	}
	words["chalk"] += ". Write " + edge + " on it"
	if edge == "top" || edge == "bottom" {
		words["gap"] = " Both start on the same place of the print across, too."
	}
	return words
}

// headedBoth are the words for both strips of a pair.
func (q *quilt) headedBoth(border int, e calc.Edges) names {
	switch h := q.heads(border); {
	case h == "":
		return nil
	case h.AlongOn(e):
		return names{"upright": ", heads up", "chalk": ": left's left, right's right. Name both", "innerAt": ", left's right and right's left"}
	case h == calc.Up:
		return names{"chalk": ": top's feet, bottom's heads. Name both", "innerAt": ", top's feet and bottom's heads"}
	}
	at := q.headed(border, "")["chalk"]
	return names{"chalk": at, "innerAt": at}
}

// headedOnEdge are the words for an edge that is pinned: where all heads of its strips point.
func (q *quilt) headedOnEdge() names {
	point := calc.Heads("")
	for _, b := range q.plan.Borders {
		switch h := b.Fabric.Heads; {
		case h == "" || h == point:
		case point == "":
			point = h
		default:
			point = "as planned"
		}
	}
	if point == "" {
		return nil
	}
	return names{
		"headsOut": fmt.Sprintf(" Fold it open: all heads point %s.", point),
		"heads":    fmt.Sprintf(", heads %s", point),
	}
}

// newHeads tells why work on a strip does not stand, now that its print has a direction or
// another one: a strip was cut the other way, or its inner edge is another. "" where it does.
func (w *Work) newHeads(fresh *Work, t *Tick) string {
	border := t.of.number("border")
	edge := t.of["edge"]
	if border < 1 || edge == "" || border > len(w.built.plan.Borders) || border > len(fresh.built.plan.Borders) {
		return ""
	}
	was, is := w.built.heads(border), fresh.built.heads(border)
	if is == "" || is == was || !strings.HasPrefix(t.ID, "cut.") && !strings.HasPrefix(t.ID, "join.") {
		return ""
	}
	e := pairOf(edge)
	if across := fresh.built.across(border, e); across != w.built.across(border, e) {
		runs := map[bool]string{true: "across the fabric", false: "along the fabric"}
		return fmt.Sprintf("It was done for a strip %s; with heads %s it is cut %s.", runs[!across], is, runs[across])
	}
	if strings.HasSuffix(t.ID, ".ready") {
		return fmt.Sprintf("With heads %s the edge toward the center may be the other one.", is)
	}
	return ""
}
