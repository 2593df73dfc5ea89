package draw

import (
	"fmt"
	"sort"

	"cornerwise/calc"
)

// partsOf are the parts of the strip of border i on an edge, first to last, as its
// cloth is laid out: together with the borders that share it. None where it is cut
// in one.
func (q Quilt) partsOf(i int, edge string) []calc.Piece {
	var way *calc.Way
	for _, c := range q.Sheet.Cloth {
		if c.Border == i+1 {
			way = c.Picked()
		}
	}
	for _, c := range q.Sheet.Together {
		for _, border := range c.Borders {
			if border == i+1 {
				way = c.Picked()
			}
		}
	}
	var parts []calc.Piece
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

// A run is as many parts after each other as are of one length.
type run struct {
	length calc.Figure
	count  int
}

func runsOf(parts []calc.Piece) []run {
	var runs []run
	for _, piece := range parts { // strips that are joined are cut crosswise: long across the cloth
		if n := len(runs); n > 0 && runs[n-1].length.Length.Equal(piece.Width.Length) {
			runs[n-1].count++
			continue
		}
		runs = append(runs, run{piece.Width, 1})
	}
	return runs
}

// stripParts are the parts that a strip is put together from, and below them the
// strip, all to one scale.
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
		q.cloth(p, i, e, f, outline)
		p.shape("raw", f.all(outline)...)
		return f
	}
	y := 54 + max(0, height-94-float64(len(runs)+1)*(high+54)-16)/2
	words := ""
	for _, r := range runs {
		bar(y, in(r.length.Length))
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
	for n, part := range parts {
		if n == len(parts)-1 {
			break
		}
		loss := 2 * q.seam()
		lean := 0.0
		if q.Plan.Borders[i].Cloth.Join == "diagonal" {
			loss, lean = wide, wide/2
		}
		// The seam lies in the middle of what both ends lose.
		at += in(part.Width.Length) - loss/2
		p.line("joinline", f.at(at-lean, 0), f.at(at+lean, wide))
		at -= loss / 2
	}
	p.text("tn", pt{24, y + high + 32}, after, strip.CutLength.Shown()+" joined")
	return fmt.Sprintf("The %s strip of %s in its parts: %s; joined they make %s", s.Edge, strip.Name, words, strip.CutLength.Shown())
}

// stripJoined is the join of two parts, right sides together: crossed at right
// angles and sewn from corner to corner, or end on end.
func (q Quilt) stripJoined(p *pen, s Scene) string {
	i, e := s.Border-1, edgesOf(s.Edge)
	b := q.Plan.Borders[i]
	wide, seam := q.cutOn(i, e), q.seam()
	name := fmt.Sprintf("Two parts of the %s strip of %s, right sides together", s.Edge, b.Name)
	if b.Cloth.Join != "diagonal" {
		return name + q.joinedStraight(p, i, e, wide, seam)
	}
	k := 200 / wide
	f := frame{k, 0, 0, k, 330, 90} // from the corner where the seam starts
	left, low := -(330-24)/k, (470-90)/k
	lying := box{left, 0, wide, wide}
	q.cloth(p, i, e, f, lying.corners())
	p.line("raw", f.at(left, 0), f.at(wide, 0), f.at(wide, wide))
	p.line("raw", f.at(left, wide), f.at(0, wide))
	over := box{0, 0, wide, low}
	p.shape("wrong", f.all(over.corners())...)
	p.line("raw", f.at(0, low), f.at(0, 0), f.at(wide, 0), f.at(wide, low))
	p.line("ghost", f.at(0, wide), f.at(wide, wide))
	p.torn(f.at(left, wide).plus(pt{8, 14}), f.at(left, 0).plus(pt{8, -14}))
	p.torn(f.at(wide, low).plus(pt{14, -8}), f.at(0, low).plus(pt{-14, -8}))
	a, c := f.at(0, 0), f.at(wide, wide)
	p.line("stitch", a, c)
	way := c.minus(a).unit()
	for _, t := range []float64{0.25, 0.5, 0.75} {
		p.pin(a.to(c, t), pt{-way.y, way.x})
	}
	p.words(pt{24, 372}, after, word{"t", "corner to"}, word{"t", "corner"})
	p.text("ts", pt{f.at(0, 0).x, 44}, amid, "raw edges level")
	return name + ", crossed at right angles with their ends level: the seam runs on the diagonal from corner to corner"
}

func (q Quilt) joinedStraight(p *pen, i int, e calc.Edges, wide, seam float64) string {
	k := min(250/wide, 200/(3*seam))
	k = max(k, 60/wide)
	high := min(wide*k, 270)
	f := frame{k, 0, 0, k, 520, 90} // from the raw ends
	left, low := -(520-24)/k, high/k
	q.cloth(p, i, e, f, box{left, 0, 0, low}.corners())
	over := box{left * 0.72, 0, 0, low}
	p.shape("wrong", f.all(over.corners())...)
	p.line("raw", f.at(left, 0), f.at(0, 0), f.at(0, low), f.at(left, low))
	p.torn2(f.at(over.left, 0), f.at(over.left, low))
	p.torn(f.at(left, low).plus(pt{8, 14}), f.at(left, 0).plus(pt{8, -14}))
	x := -max(seam, 16/k)
	p.line("stitch", f.at(x, 0), f.at(x, low))
	for _, t := range []float64{0.2, 0.5, 0.8} {
		p.pin(f.at(-2.2*max(seam, 16/k), low*t), pt{1, 0})
	}
	p.dim(f.at(x, low).plus(pt{0, 24}), f.at(0, low).plus(pt{0, 24}))
	p.text("tn", pt{f.at(0, 0).x, f.f + high + 66}, before, q.Sheet.Seam.Exactly()+" seam")
	p.text("t", pt{24, f.f + high + 66}, after, "end on end")
	return fmt.Sprintf(", end on end: the seam lies %s in from the raw ends", q.Sheet.Seam.Exactly())
}
