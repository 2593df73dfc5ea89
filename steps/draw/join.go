package draw

import (
	"fmt"
	"slices"
	"sort"
	"strings"

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

// joinOf is how strips of border i on an edge are joined, in the middle of the strip.
func (q Quilt) joinOf(i int, edge string) join {
	diagonal := q.Plan.Borders[i].Fabric.Join == "diagonal"
	if way, _ := q.wayOf(i); way != nil && way.Join != "" {
		diagonal = way.Join == "diagonal"
	}
	return join{Quilt: q, i: i, edge: edge, wide: q.cutOn(i, edgesOf(edge)), diagonal: diagonal}
}

// joinsOf are the joins of the strip of a scene, first to last.
func (q Quilt) joinsOf(s Scene) []join {
	if s.Kind == CopingScene {
		q, s.Border = q.copingAsBorder(), 1
	}
	i := s.Border - 1
	one := q.joinOf(i, s.Edge)
	at := -in(q.strip(i, edgesOf(s.Edge)).CutLength.Length) / 2
	var joins []join
	parts := q.partsOf(i, s.Edge)
	for n, part := range parts {
		if n == len(parts)-1 {
			break
		}
		at += in(part.Width.Length) - one.loss()/2 // the seam lies in the middle of what both ends lose
		one.at = at
		joins = append(joins, one)
		at -= one.loss() / 2
	}
	return joins
}

// seamsOf draws the seams of joins on a strip that lies level, right side up, from so far
// right of its middle on.
func (p *pen) seamsOf(joins []join, f frame, from float64) {
	for _, j := range joins {
		if j.at-j.lean() < from {
			continue
		}
		p.line("seam", f.at(j.at-j.lean(), 0), f.at(j.at+j.lean(), j.wide))
	}
}

// A run is as many parts after each other as are of one length; one part where each is cut on
// another place of the print, and there is room to draw them all.
type run struct {
	length calc.Figure
	count  int
}

func runsOf(parts []calc.Piece, printed bool) []run {
	var runs []run
	apart := printed && len(parts) <= 4
	for _, piece := range parts { // strips that are joined are cut crosswise: long across the fabric
		if n := len(runs); n > 0 && !apart && runs[n-1].length.Length.Equal(piece.Width.Length) {
			runs[n-1].count++
			continue
		}
		runs = append(runs, run{piece.Width, 1})
	}
	return runs
}

// stripParts are the parts that a strip is put together from, and below them the
// strip, all to one scale; where they are cut, each with its cut.
func (q Quilt) stripParts(p *pen, s Scene) string {
	q.coped = s.Kind == CopingScene
	i, e := s.Border-1, edgesOf(s.Edge)
	strip, flat := q.stripOf(p, s), q.flat(s.Edge, false)
	wide, whole := in(strip.wide.Length), in(strip.long.Length)
	runs := runsOf(q.partsOf(i, s.Edge), !q.coped && q.Plan.Borders[i].Motif.Sign() > 0)
	var names []string
	for _, r := range runs {
		name := r.length.Shown()
		if r.count > 1 {
			name = fmt.Sprintf("%d × %s", r.count, name)
		}
		names = append(names, name)
	}
	words := fmt.Sprintf("The %s strip of %s in its parts: %s", s.Edge, q.strip(i, e).Name, strings.Join(names, ", "))
	if s.Act == "parts-cut" {
		q.partsCut(p, s, strip, runs, names)
		return fmt.Sprintf("%s; joined they make %s, each cut with the ruler on it and the blade away from you", words, strip.long.Shown())
	}

	longest := whole
	for _, r := range runs {
		longest = max(longest, in(r.length.Length))
	}
	lane := min(118, (height-120)/float64(len(runs)+1))
	k := min((width-48)/longest, (lane-54)/wide)
	high := wide * k
	from := -whole / 2 // where a part begins in its strip
	bar := func(y, long float64) frame {
		f := frame{k, 0, 0, k, 24 - from*k, y}
		outline := box{from, 0, from + long, wide}
		strip.lie(flat, f, outline)
		p.shape("raw", f.all(outline.corners())...)
		return f
	}
	loss := q.joinOf(i, s.Edge).loss()
	y := 54 + max(0, height-94-float64(len(runs)+1)*(high+54)-16)/2
	for n, r := range runs {
		bar(y, in(r.length.Length))
		from += float64(r.count) * (in(r.length.Length) - loss)
		p.text("tn", pt{24, y - 27}, after, names[n])
		y += high + 54
	}
	p.arrow("arrow", pt{width / 2, y - 44}, pt{width / 2, y - 4})
	y += 10
	from = -whole / 2
	f := bar(y, whole)
	for _, j := range q.joinsOf(s) {
		p.line("joinline", f.at(j.at-j.lean(), 0), f.at(j.at+j.lean(), wide))
	}
	p.text("tn", pt{24, y + high + 32}, after, strip.long.Shown()+" joined")
	return fmt.Sprintf("%s; joined they make %s", words, strip.long.Shown())
}

// partsCut are the cuts across the parts that are shorter than the fabric is wide; where none
// is, the cut along a part.
func (q Quilt) partsCut(p *pen, s Scene, strip cutStrip, runs []run, names []string) {
	usable := q.Plan.Borders[s.Border-1].Fabric.UsableWidth
	var short []int
	longest := 0.0
	for n, r := range runs {
		if r.length.Length.Less(usable) {
			short = append(short, n)
			longest = max(longest, in(r.length.Length))
		}
	}
	if len(short) == 0 {
		strip.long, strip.count = runs[0].length, runs[0].count
		q.edgeCut(p, s, strip)
		return
	}
	p.forHand(q)
	wide := in(strip.wide.Length)
	lane := (height - 16) / float64(len(short))
	k := min(440/longest, min(lane-122, 150)/wide)
	flat, from := q.flat(s.Edge, false), -in(strip.long.Length)/2
	for n, i := range short {
		long := in(runs[i].length.Length)
		k := min(max(k, 150/long), min(lane-122, 150)/wide) // a short one larger, so that its cut is seen
		high := max(wide*k, 1)
		y := 8 + lane*float64(n) + (lane-high)/2 + 22
		f := frame{k, 0, 0, k, 24 - from*k, y}
		strip.lie(flat, f, box{from, 0, from + long + 50/k, wide})
		p.lines("raw", f.at(from, 0), f.at(from+long+50/k, 0), f.at(from, wide), f.at(from+long+50/k, wide), f.at(from, 0), f.at(from, wide))
		edge := f.at(from+long, 0).x
		p.torn(pt{edge + 42, y - 10}, pt{edge + 42, y + high + 10})
		p.cutUp(edge, y+high+22, y-22, min(84, long*k*0.6), q.rulerStep(k))
		p.text("tn", pt{24, y - 48}, after, names[i]+", "+strip.wide.Shown()+" wide")
	}
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
