package pack

import (
	"cmp"
	"math/big"
	"slices"
)

// A Mixed task lays some strips along the fabric, in columns, and the others across it, in
// rows, on one length: what a print with a direction asks for that stands upright on all four
// edges.
//
// Columns hang from the start of the fabric, at its left edge, or stand on its end, at its
// right edge, the longest outermost. Rows lie in what they leave: below them, above them, and
// beside them. So a frame of four strips lies as it will be sewn, each beginning where the
// one before ends.
//
// A length that no layout at all has is refused (impossible). Where every shorter length at
// which a layout could end is refused, the layout is the shortest. That is tried for the strips
// of one border without a print; of more only the shortest of the layouts above is sought.
type Mixed struct {
	Along, Across []Strip
	// Motif is the repeat of the print, both along the strips and across the rows: all rows
	// start on whole motifs, and the first may have to start up to one farther on. 0: anywhere.
	Motif int64
	Joins bool // strips across may be joined
	Work  int
}

// A Mixture is where the strips of a Mixed task lie. Lanes of those across are rows.
type Mixture struct {
	Length        int64
	Along, Across []Part
}

// Lay finds a short layout on fabric so wide; loss is what a join takes of a strip so wide. It
// is nil where a strip is too wide or too long for the fabric. The second result tells whether
// no layout is shorter.
func (t Mixed) Lay(width int64, loss func(width int64) int64) (*Mixture, bool) {
	m := &mixer{Mixed: t, width: width, loss: loss, work: t.Work}
	best, proved := m.apart()
	if best == nil {
		return nil, proved
	}
	ground := m.ground()
	if !t.Joins && t.Motif == 0 && m.neverBeside() || best.Length == ground {
		return best, proved || best.Length == ground
	}
	if !m.alike() {
		return m.shorter(best, ground)
	}
	lengths := m.lengths(ground, best.Length)
	if len(lengths) > maxLengths {
		return m.shorter(best, ground)
	}
	proved = m.complete()
	for _, length := range lengths {
		if m.work <= 0 {
			proved = false
			break
		}
		if found := m.within(length); found != nil {
			best = found
			break
		}
		proved = proved && m.impossible(length)
	}
	return best, proved || best.Length == ground
}

// A mixer is the search's state.
type mixer struct {
	Mixed
	width int64
	loss  func(width int64) int64
	work  int
}

// apart are the rows first and the columns after them.
func (m *mixer) apart() (*Mixture, bool) {
	along, sure := Task{Strips: m.Along, Motif: m.Motif, Work: m.Work}.Columns(m.width)
	if along == nil {
		return nil, true
	}
	rows := Task{Strips: m.Across, Step: m.Motif, Motif: m.Motif, Work: m.Work}
	across, proved := rows.Rows(m.width)
	if m.Joins {
		joined, joinedProved := rows.Joined(m.width, m.loss)
		if joined != nil && (across == nil || joined.Length < across.Length) {
			across, proved = joined, joinedProved
		}
	}
	if across == nil {
		return nil, true
	}
	for i := range along.Parts {
		along.Parts[i].Along += across.Length
	}
	return &Mixture{along.Length + across.Length, along.Parts, across.Parts}, sure && proved
}

// ground is a length that no layout gets below.
func (m *mixer) ground() int64 {
	var least int64
	area := new(big.Int)
	add := func(w, l int64) { area.Add(area, new(big.Int).Mul(big.NewInt(w), big.NewInt(l))) }
	for _, s := range m.Along {
		least = max(least, s.Length+m.Motif)
		add(s.Width, s.Length)
	}
	for _, s := range m.Across {
		least = max(least, s.Width+m.Motif)
		add(s.Width, s.Length)
	}
	area.Add(area, big.NewInt(m.width-1))
	return max(least, area.Quo(area, big.NewInt(m.width)).Int64())
}

// neverBeside tells whether no strip across goes beside one along.
func (m *mixer) neverBeside() bool {
	narrow, short := m.Along[0].Width, m.Across[0].Length
	for _, s := range m.Along {
		narrow = min(narrow, s.Width)
	}
	for _, s := range m.Across {
		short = min(short, s.Length)
	}
	return narrow+short > m.width
}

// alike tells whether the strips each way are alike: those of one border are.
func (m *mixer) alike() bool {
	same := func(list []Strip) bool {
		return !slices.ContainsFunc(list, func(s Strip) bool { return s != list[0] })
	}
	return len(m.Along) == 2 && same(m.Along) && same(m.Across)
}

// complete tells whether impossible is all that a layout must keep to: with a print it is not,
// nor where joins lie about the middle of a strip, as they come.
func (m *mixer) complete() bool {
	if m.Motif > 0 {
		return false
	}
	for _, way := range m.ways(m.Across[0]) {
		if len(way.least) > 1 && way.least[0] == way.most[0] {
			return false
		}
	}
	return true
}

// lengths are those from one to before another at which a layout of strips alike can end: what
// ends it lies on what came before it, down to the start.
func (m *mixer) lengths(from, to int64) []int64 {
	long, high := m.Along[0].Length+m.Motif, m.Across[0].Width
	var all []int64
	step, more := high, int64(0) // from the end of one row to that of the next
	if m.Motif > 0 {
		step, more = m.Motif, high
	}
	for columns := range int64(3) {
		for rows := max(0, (from-columns*long-more)/step-1); ; rows++ {
			n := columns*long + rows*step
			if rows > 0 {
				n += more
			}
			if n >= to || len(all) > 2*maxLengths {
				break
			}
			if n >= from {
				all = append(all, n)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// maxLengths is how many lengths are tried one after the other. Rows or repeats of a few threads
// have more; then a short one is sought by halving.
const maxLengths = 300

// shorter looks for a layout of strips of several widths that is shorter than the one there is,
// by halving.
func (m *mixer) shorter(best *Mixture, ground int64) (*Mixture, bool) {
	for low := ground; low < best.Length && m.work > 0; {
		at := low + (best.Length-low)/2
		if found := m.within(at); found != nil {
			best = found
		} else {
			low = at + 1
		}
	}
	return best, best.Length <= ground
}

// within is a layout of this length, nil where none is found.
func (m *mixer) within(length int64) *Mixture {
	for _, columns := range m.columns(length) {
		for hang := range 1 << min(len(columns), maxAnchored) {
			f := m.frame(columns, hang, length)
			if f == nil {
				continue
			}
			if across := f.rows(); across != nil {
				return f.mixture(across)
			}
		}
	}
	return nil
}

// maxAnchored is of how many columns it is tried at which end they are anchored; more hang.
const maxAnchored = 4

// A column is one lane of strips along the fabric; its parts count from its own start.
type column struct {
	width, long int64
	parts       []Part
}

// columns are the ways to put the strips along into columns so long: as narrow as they go, and
// each by itself.
func (m *mixer) columns(room int64) (all [][]column) {
	t := Task{Strips: m.Along, Motif: m.Motif, Work: m.Work}
	p := t.packer()
	if lanes, _ := p.within(room, m.width); lanes != nil {
		all = append(all, p.filled(lanes))
	}
	if len(m.Along) == 2 && (len(all) == 0 || len(all[0]) == 1) {
		p = t.packer()
		var lanes []lane
		for i, l := range p.lots {
			for _, w := range l.widths {
				lanes = append(lanes, lane{alone(len(p.lots), i), w})
			}
		}
		all = append(all, p.filled(lanes))
	}
	return all
}

// filled are lanes with their strips, longest first.
func (p *packer) filled(lanes []lane) []column {
	next := make([]int, len(p.lots))
	var all []column
	for _, l := range lanes {
		c := column{width: l.width, long: p.lengthOf(l.counts)}
		lots, along := p.order(l)
		for n, k := range lots {
			x := p.lots[k]
			c.parts = append(c.parts, Part{x.strips[next[k]], 0, along[n], x.widths[next[k]], x.length, 0})
			next[k]++
		}
		all = append(all, c)
	}
	slices.SortStableFunc(all, func(a, b column) int { return cmp.Compare(b.long, a.long) })
	return all
}

// A frame is the columns on a length of fabric, and what they leave of it.
type frame struct {
	*mixer
	length      int64
	hung, stood []column // from the start, at the left; on the end, at the right
}

// frame anchors the columns: those whose bit is set stand on the end. It is nil where they do
// not go beside each other.
func (m *mixer) frame(columns []column, stand int, length int64) *frame {
	f := &frame{mixer: m, length: length}
	for i, c := range columns {
		if c.long > length {
			return nil
		}
		if stand>>i&1 == 1 {
			f.stood = append(f.stood, c)
		} else {
			f.hung = append(f.hung, c)
		}
	}
	for _, c := range columns {
		for _, y := range []int64{0, length - c.long, length - 1} {
			if left, right := f.between(y, y+1); right < left {
				return nil
			}
		}
	}
	return f
}

// between is what the columns leave of the width from one place along the fabric to another.
func (f *frame) between(from, to int64) (left, right int64) {
	right = f.width
	for _, c := range f.hung {
		if c.long > from {
			left += c.width
		}
	}
	for _, c := range f.stood {
		if f.length-c.long < to {
			right -= c.width
		}
	}
	return left, right
}

// mixture is the whole layout, as long as it reaches. Columns that stand lie at the right edge.
func (f *frame) mixture(across []Part) *Mixture {
	out := &Mixture{Across: across}
	for _, x := range across {
		out.Length = max(out.Length, x.Lane+x.Width)
	}
	along := &Layout{}
	put := func(c column, x, y int64) {
		for _, part := range c.parts {
			part.Lane, part.Along = x, part.Along+y
			along.Parts = append(along.Parts, part)
		}
		out.Length = max(out.Length, y+c.long)
	}
	var left int64
	for _, c := range f.hung {
		put(c, left, 0)
		left += c.width
	}
	right := f.width
	for _, c := range f.stood {
		right -= c.width
		put(c, right, f.length-c.long)
	}
	p := Task{Strips: f.Along, Motif: f.Motif}.packer()
	p.onPrint(f.Along, along, nil)
	out.Along = along.Parts
	return out
}
