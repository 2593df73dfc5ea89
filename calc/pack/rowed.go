package pack

import "slices"

// rowed is a way to cut joined strips: rows with what lies in each.
type rowed struct {
	height int64
	joins  int
	far    int64 // twice what all joins lie from the middles of their strips
	rows   []laid
}

type laid struct {
	width int64
	parts []Part // without their place across
	free  int64
}

// better goes by height, then by joins, then by how far these are from the middle.
func (r *rowed) better(than *rowed) bool {
	switch {
	case than == nil:
		return true
	case r.height != than.height:
		return r.height < than.height
	case r.joins != than.joins:
		return r.joins < than.joins
	}
	return r.far > than.far
}

// rowed puts the picks in hand into rows, with parts so long.
func (j *joiner) rowed(parts [][]int64, height int64, joins int) *rowed {
	out := &rowed{height: height, joins: joins}
	for _, r := range j.rows {
		free := j.room
		if r.given {
			free = r.free
		}
		out.rows = append(out.rows, laid{width: r.width, free: free})
	}
	for s, lengths := range parts {
		p, i := j.picks[j.from+s], j.order[j.from+s]
		for k, n := range lengths {
			row := p.rows[k]
			if row < 0 {
				row = len(out.rows)
				out.rows = append(out.rows, laid{width: j.task.Strips[i].Width, free: j.room})
			}
			number := k + 1
			if len(lengths) == 1 {
				number = 0
			}
			r := &out.rows[row]
			r.parts = append(r.parts, Part{Strip: i, Width: j.task.Strips[i].Width, Length: n, Number: number})
		}
		out.far += j.away(j.task.Strips[i], lengths)
	}
	return out
}

// away is twice what the joins of a strip of these parts lie from its middle.
func (j *joiner) away(s Strip, parts []int64) (sum int64) {
	loss, at := j.loss(s.Width), int64(0)
	for _, n := range parts[:len(parts)-1] {
		at += n - loss // where the join begins
		off := 2*at + loss - s.Length
		sum += max(off, -off)
	}
	return sum
}

// layout lays the rows one beside the other in the order in which they are cut, one last that
// gains most by it, and the parts of a row end to end. A strip's parts are counted from the
// end at which less is gone back for.
func (r *rowed) layout(j *joiner) *Layout {
	gain := func(x laid) int64 { return j.pitch(x.width) - x.width }
	most, last := int64(0), make([]bool, len(r.rows))
	for _, x := range r.rows {
		most = max(most, gain(x))
	}
	many := make([]int, len(j.task.Strips))
	for i, x := range r.rows {
		last[i] = gain(x) == most
		for _, p := range x.parts {
			many[p.Strip]++
		}
	}
	turned := make([]bool, len(many))
	number := func(p Part) int {
		if turned[p.Strip] && p.Number > 0 {
			return many[p.Strip] + 1 - p.Number
		}
		return p.Number
	}
	rows := make([]laid, len(r.rows))
	for i, x := range r.rows {
		x.parts = slices.Clone(x.parts)
		rows[i] = x
	}
	swap := func(a, b int) {
		for _, x := range rows {
			for k := range x.parts {
				switch p := &x.parts[k]; p.Strip {
				case a:
					p.Strip = b
				case b:
					p.Strip = a
				}
			}
		}
		many[a], many[b] = many[b], many[a]
		turned[a], turned[b] = turned[b], turned[a]
	}
	ranks := func() [][]int {
		all := make([][]int, len(r.rows))
		for i, x := range rows {
			for _, p := range x.parts {
				rank := p.Strip*(MaxParts+1) + number(p)
				if many[p.Strip] == 1 { // cut when all that is joined is cut and joined
					rank += len(many) * (MaxParts + 1)
				}
				all[i] = append(all[i], rank)
			}
		}
		return all
	}
	order := fewestBacks(ranks(), last)
	for i := range turned[:min(len(turned), exactStrips)] {
		before := backs(ranks(), order)
		if turned[i] = true; many[i] == 1 || backs(ranks(), order) >= before {
			turned[i] = false
		}
	}
	order = fewestBacks(ranks(), last)
	for i, s := range j.task.Strips[:min(len(j.task.Strips), exactStrips)] { // strips alike may be changed for each other
		for k := range i {
			if j.task.Strips[k] == s {
				before := backs(ranks(), order)
				if swap(i, k); backs(ranks(), order) >= before {
					swap(i, k)
				}
			}
		}
	}
	out := &Layout{Length: r.height}
	at := j.step
	for _, i := range order {
		row, parts := rows[i], rows[i].parts
		slices.SortStableFunc(parts, func(a, b Part) int {
			return (a.Strip*(MaxParts+1) + number(a)) - (b.Strip*(MaxParts+1) + number(b))
		})
		along := int64(0)
		for _, p := range parts {
			p.Lane, p.Along, p.Number = at, along+j.motif, number(p)
			along += j.motif + p.Length
			out.Parts = append(out.Parts, p)
		}
		at += j.pitch(row.width)
	}
	j.onPrint(j.task.Strips, out, j.loss)
	return out
}

// loose cuts each strip by itself: full rows, and one part that is as short as may be.
// These and the strips in one are then packed in rows.
func (j *joiner) loose() *rowed {
	rest := Task{Step: j.step}
	type of struct{ strip, part int }
	var whose []of
	parts := make([][]int64, len(j.order))
	out := &rowed{}
	for i := range j.order {
		way, s := j.ways[i][0], j.strip(i)
		k := len(way.least)
		lengths := slices.Clone(way.least)
		left := way.total
		for _, n := range lengths {
			left -= n
		}
		for n := k - 1; n >= 0; n-- { // the first part last
			more := min(left, way.most[n]-way.least[n])
			lengths[n], left = lengths[n]+more, left-more
		}
		parts[i] = lengths
		out.joins += k - 1
		out.far += j.away(s, lengths)
		for n, x := range lengths {
			whose = append(whose, of{i, n})
			rest.Strips = append(rest.Strips, Strip{Width: s.Width, Length: x + j.motif})
		}
	}
	rest.Work = max(j.task.Work/4, 64*len(rest.Strips)) // no less, so that there is a layout
	laidOut, _ := rest.Rows(j.room)
	lanes := map[int64]int{}
	for _, p := range laidOut.Parts {
		at, ok := lanes[p.Lane]
		if !ok {
			at = len(out.rows)
			lanes[p.Lane] = at
			out.rows = append(out.rows, laid{free: j.room})
		}
		w := whose[p.Strip]
		number := w.part + 1
		if len(parts[w.strip]) == 1 {
			number = 0
		}
		row := &out.rows[at]
		row.width = max(row.width, p.Width)
		row.parts = append(row.parts, Part{Strip: j.order[w.strip], Width: p.Width, Length: p.Length - j.motif, Number: number})
	}
	out.height = laidOut.Length
	return out
}

// bunch is how many strips are cut at a time, and offered from how many rows there are.
const bunch, offered = 4, 6

// bunches cuts a few strips after the other, each bunch as well as it can be from what the
// rows before have left and from fresh ones.
func (j *joiner) bunches() *rowed {
	all := &rowed{}
	work := j.task.Work
	j.hang = false
	for from := 0; from < len(j.order); from += bunch {
		to := min(from+bunch, len(j.order))
		// The emptiest rows are of most use.
		slices.SortStableFunc(all.rows, func(a, b laid) int { return int(max(-1, min(1, b.free-a.free))) })
		var given []shared
		for _, r := range all.rows[:min(offered, len(all.rows))] {
			given = append(given, shared{r.width, r.free, len(r.parts), true})
		}
		j.work, j.best, j.ground = work*bunch/len(j.order), nil, 0
		j.search(from, to, given)
		if j.best == nil {
			return nil
		}
		for i, r := range j.best.rows {
			if i < len(given) {
				all.rows[i].parts = append(all.rows[i].parts, r.parts...)
			} else {
				all.rows = append(all.rows, r)
			}
		}
		all.joins, all.far = all.joins+j.best.joins, all.far+j.best.far
		for i := range all.rows {
			r := &all.rows[i]
			r.free = j.room
			for _, p := range r.parts {
				r.free -= p.Length + j.motif
			}
		}
	}
	var sum, slack int64
	for _, r := range all.rows {
		sum += j.pitch(r.width)
		slack = max(slack, j.pitch(r.width)-r.width)
	}
	all.height = j.across(sum, slack)
	return all
}
