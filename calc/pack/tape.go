package pack

import (
	"math"
	"sort"
)

// How strips were joined before joins had their place: strips that were cut so keep their
// parts. Rows of fabric are joined end to end into tapes, and strips cut from them one
// after the other, wherever the joins come to lie. Every join loses a piece of
// tape: two seam allowances, or on the diagonal one cut width. A tape need not go
// on: a strip may begin on a fresh row, and what was left of the last is waste.
// "Four strips of 72 from rows of 60, straight joins: 5 rows, not 6."

// Tapes lays the strips on tapes from rows of this room; loss is what a join loses in a
// strip so wide. It is nil where a strip would have more than MaxParts. With a print
// along the strip each join loses up to a whole motif more, to meet the print. The
// second result tells whether no layout is shorter.
//
// Every order of strips and every strip at which to begin afresh is tried, short of the
// task's work: for the four strips of one border that is all there is.
func (t Task) Tapes(room int64, loss func(width int64) int64) (*Layout, bool) {
	p := t.packer()
	p.lots = byWidth(p.lots)
	c := &tape{packer: p, room: room, loss: loss, seen: map[string]tapeEnd{}, last: -1}
	for _, l := range p.lots {
		c.left = append(c.left, len(l.widths))
		if c.parts(l.length, loss(l.widths[0])) > MaxParts {
			return nil, true
		}
	}
	for _, l := range p.lots {
		c.sums = append(c.sums, c.tapeOf(l))
	}
	p.floor = p.thresholds()
	ground := c.under()
	c.cut()
	if c.best == nil {
		return nil, p.work >= 0
	}
	return c.best, c.best.Length <= ground || p.work >= 0
}

// byWidth parts lots into such of one width: on a tape a wide strip may well lie
// behind a narrow one of its length.
func byWidth(lots []lot) []lot {
	var out []lot
	for _, l := range lots {
		for i, w := range l.widths {
			if i == 0 || w != l.widths[i-1] {
				out = append(out, lot{length: l.length, gap: l.gap})
			}
			last := &out[len(out)-1]
			last.widths, last.strips = append(last.widths, w), append(last.strips, l.strips[i])
		}
	}
	return out
}

// A tape is the search's state: what is left, and the row that is being cut.
type tape struct {
	*packer
	room int64 // of a row
	loss func(width int64) int64
	left []int
	sums [][]int64

	last int   // the lot of the last strip, -1 at a fresh start
	free int64 // what is left of the row in hand
	rows []int64
	cuts []tapeCut
	seen map[string]tapeEnd
	best *Layout
}

type tapeCut struct {
	strip  int
	row    int
	along  int64
	width  int64
	length int64
	number int
}

type tapeEnd struct{ free, length int64 }

// length is the height of all rows so far.
func (t *tape) length() int64 {
	var sum, slack int64
	for _, h := range t.rows {
		sum += t.pitch(h)
		slack = max(slack, t.pitch(h)-h)
	}
	return t.across(sum, slack)
}

// under is a length that no way to go on gets below: for each width, the rows that
// the strips at least so wide fill with the joins that each of them must have.
func (t *tape) under() int64 {
	var sum int64
	for _, h := range t.rows {
		sum += t.pitch(h)
	}
	row := t.room - t.motif
	for _, level := range t.floor {
		need := -t.free
		for i, l := range t.lots {
			if used := len(l.widths) - t.left[i]; used < level.many[i] {
				need += t.sums[i][level.many[i]] - t.sums[i][used]
			}
		}
		if need > 0 {
			sum += level.rise * ((need + row - 1) / row)
		}
	}
	return t.across(sum, t.slack)
}

// tapeOf is how much tape the first strips of a lot take, 0 to all of them, each
// with the joins that it must have.
func (t *tape) tapeOf(l lot) []int64 {
	sums := make([]int64, 1, len(l.widths)+1)
	for i, w := range l.widths {
		loss := t.loss(w)
		sums = append(sums, sums[i]+l.length+(t.parts(l.length, loss)-1)*loss)
	}
	return sums
}

// parts is from how many rows, at least one, a strip so long must come.
func (t *tape) parts(length, loss int64) int64 {
	gain := t.room - t.motif - loss
	if gain <= 0 {
		return math.MaxInt64
	}
	return max(1, (length-loss+gain-1)/gain)
}

// cut goes on from the state in hand in every way.
func (t *tape) cut() {
	if t.work--; t.work < 0 && t.best != nil {
		return
	}
	if t.best != nil && t.under() >= t.best.Length {
		return
	}
	key := t.key()
	end := tapeEnd{t.free, t.length()}
	if e, ok := t.seen[key]; ok && e.free >= end.free && e.length <= end.length {
		return
	}
	t.seen[key] = end
	order := make([]int, 0, len(t.lots))
	for i := range t.lots {
		if t.left[i] > 0 {
			order = append(order, i)
		}
	}
	if len(order) == 0 {
		t.noteBest()
		return
	}
	next := func(i int) int64 { l := t.lots[i]; return l.widths[len(l.widths)-t.left[i]] }
	sort.SliceStable(order, func(i, j int) bool { return next(order[i]) > next(order[j]) })
	for _, k := range order {
		for _, fresh := range []bool{false, true} {
			t.strip(k, next(k), fresh)
		}
	}
}

// key is all of the state but how much is free and how long it is. Of the rows
// before only their greatest slack matters, which their length tells too.
func (t *tape) key() string {
	high := int64(0)
	if len(t.rows) > 0 {
		high = t.rows[len(t.rows)-1]
	}
	var slack int64
	for _, h := range t.rows {
		slack = max(slack, t.pitch(h)-h)
	}
	b := []byte(countsKey(t.left))
	for _, n := range []int64{high, slack, int64(t.last + 1)} {
		for i := 0; i < 8; i++ {
			b = append(b, byte(n>>(8*i)))
		}
	}
	return string(b)
}

// strip cuts the next strip of lot k, goes on, and puts it back.
func (t *tape) strip(k int, width int64, fresh bool) {
	l := t.lots[k]
	loss := t.loss(width)
	var gap int64
	if t.motif > 0 && t.last >= 0 && !fresh {
		a := t.lots[t.last]
		gap = t.apart(t.last, k) - (a.length+l.length)/2
	}
	// A rest that a join would use up is not worth joining.
	if !fresh && (t.last < 0 || t.free < gap+min(l.length, loss+1)) {
		return
	}
	free, last, rows, cuts := t.free, t.last, len(t.rows), len(t.cuts)
	var high int64
	if rows > 0 {
		high = t.rows[rows-1]
	}
	room := t.room
	at, row := room-free+gap, rows-1
	if fresh {
		at, row = t.motif, rows
		t.rows = append(t.rows, width)
	} else {
		t.rows[row] = max(t.rows[row], width)
	}
	strip := l.strips[len(l.strips)-t.left[k]]
	need, number := l.length, 0
	for need > room-at {
		number++
		t.cuts = append(t.cuts, tapeCut{strip, row, at, width, room - at, number})
		need -= room - at - loss
		at, row = t.motif, row+1
		t.rows = append(t.rows, width)
	}
	if number > 0 {
		number++
	}
	t.cuts = append(t.cuts, tapeCut{strip, row, at, width, need, number})
	t.free, t.last = room-at-need, k
	t.left[k]--
	t.cut()
	t.left[k]++
	t.free, t.last, t.rows, t.cuts = free, last, t.rows[:rows], t.cuts[:cuts]
	if rows > 0 {
		t.rows[rows-1] = high
	}
}

// noteBest notes the layout in hand when it is the best so far.
func (t *tape) noteBest() {
	length := t.length()
	if t.best != nil && t.best.Length <= length {
		return
	}
	order := make([]int, len(t.rows))
	for i := range order {
		order[i] = i
	}
	gain := func(i int) int64 { return t.pitch(t.rows[i]) - t.rows[i] }
	for i := range order { // the row that gains most by it comes last
		if end := len(order) - 1; gain(order[i]) > gain(order[end]) {
			order[i], order[end] = order[end], order[i]
		}
	}
	lanes := make([]int64, len(t.rows))
	at := t.step
	for _, i := range order {
		lanes[i] = at
		at += t.pitch(t.rows[i])
	}
	t.best = &Layout{Length: length}
	for _, c := range t.cuts {
		t.best.Parts = append(t.best.Parts, Part{c.strip, lanes[c.row], c.along, c.width, c.length, c.number})
	}
}
