package draw

import (
	"fmt"
	"slices"
	"sort"

	"cornerwise/calc"
)

// wayOf is how the strips of border i are cut, as their fabric is laid out: together with the
// borders that share it. Nil where no way fits.
func (q Quilt) wayOf(i int) (way *calc.Way, lengthwise bool) {
	var ways calc.Ways
	for _, c := range q.Sheet.Fabric {
		if c.Border == i+1 {
			ways = c.Ways
		}
	}
	for _, c := range q.Sheet.Together {
		if slices.Contains(c.Borders, i+1) {
			ways = c.Ways
		}
	}
	return ways.Picked(), ways.Pick == "lengthwise"
}

// partsOf are the parts of the strip of border i on an edge, first to last. None where it is
// cut in one.
func (q Quilt) partsOf(i int, edge string) []calc.Piece {
	var parts []calc.Piece
	way, _ := q.wayOf(i)
	if way == nil {
		return nil
	}
	for _, piece := range way.Layout {
		if piece.Border == i+1 && piece.Edge == edge && piece.Part > 0 {
			parts = append(parts, piece)
		}
	}
	sort.Slice(parts, func(a, b int) bool { return parts[a].Part < parts[b].Part })
	return parts
}

// joinOf is the join of border i's strips on edges e, of parts that are in hand.
func (q Quilt) joinOf(i int, e calc.Edges) join {
	diagonal := q.Plan.Borders[i].Fabric.Join == "diagonal"
	if way, _ := q.wayOf(i); way != nil && way.Join != "" {
		diagonal = way.Join == "diagonal"
	}
	return join{q, i, e, q.cutOn(i, e), diagonal}
}

// A run is as many parts after each other as are of one length.
type run struct {
	length calc.Figure
	count  int
}

func runsOf(parts []calc.Piece) []run {
	var runs []run
	for _, piece := range parts { // strips that are joined are cut crosswise: long across the fabric
		if n := len(runs); n > 0 && runs[n-1].length.Length.Equal(piece.Width.Length) {
			runs[n-1].count++
			continue
		}
		runs = append(runs, run{piece.Width, 1})
	}
	return runs
}

// stripParts are the parts that a strip is put together from, and below them the
// strip, all to one scale; where they are cut, the blade at the end of each.
func (q Quilt) stripParts(p *pen, s Scene) string {
	i, e := s.Border-1, edgesOf(s.Edge)
	strip := q.strip(i, e)
	wide, whole := in(strip.CutWidth.Length), in(strip.CutLength.Length)
	parts := q.partsOf(i, s.Edge)
	runs := runsOf(parts)

	longest := whole
	for _, r := range runs {
		longest = max(longest, in(r.length.Length))
	}
	lane := min(118, (height-120)/float64(len(runs)+1))
	k := min((width-48)/longest, (lane-54)/wide)
	high := wide * k
	bar := func(y, long float64) frame {
		f := frame{k, 0, 0, k, 24 + long*k/2, y}
		outline := box{-long / 2, 0, long / 2, wide}.corners()
		q.fabric(p, i, e, f, outline)
		p.shape("raw", f.all(outline)...)
		return f
	}
	y := 54 + max(0, height-94-float64(len(runs)+1)*(high+54)-16)/2
	words := ""
	for _, r := range runs {
		long := in(r.length.Length)
		f := bar(y, long)
		if s.Act == "parts-cut" {
			p.blade(f.at(long/2, -14/k), f.at(long/2, wide+14/k))
		}
		name := r.length.Shown()
		if r.count > 1 {
			name = fmt.Sprintf("%d × %s", r.count, name)
		}
		p.text("tn", pt{24, y - 27}, after, name)
		y += high + 54
		if words != "" {
			words += ", "
		}
		words += name
	}
	p.arrow("arrow", pt{width / 2, y - 44}, pt{width / 2, y - 4})
	y += 10
	f := bar(y, whole)
	at := -whole / 2
	j := q.joinOf(i, e)
	loss, lean := j.loss(), j.lean()
	for n, part := range parts {
		if n == len(parts)-1 {
			break
		}
		// The seam lies in the middle of what both ends lose.
		at += in(part.Width.Length) - loss/2
		p.line("joinline", f.at(at-lean, 0), f.at(at+lean, wide))
		at -= loss / 2
	}
	p.text("tn", pt{24, y + high + 32}, after, strip.CutLength.Shown()+" joined")
	say := ""
	if s.Act == "parts-cut" {
		say = ", the blade at the end of each"
	}
	return fmt.Sprintf("The %s strip of %s in its parts: %s%s; joined they make %s", s.Edge, strip.Name, words, say, strip.CutLength.Shown())
}

// loss is what both ends lose in the join.
func (j join) loss() float64 {
	if j.diagonal {
		return j.wide
	}
	return 2 * j.seam()
}

// lean is how far the join leans to either side of its middle.
func (j join) lean() float64 {
	if j.diagonal {
		return j.wide / 2
	}
	return 0
}
