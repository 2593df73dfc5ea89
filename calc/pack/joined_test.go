package pack_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc/pack"
)

// A score is what layouts of joined strips are compared by.
type score struct {
	height int64
	joins  int
	far    int64 // twice the sum of the joins' distances from the middles of their strips
}

func (s score) better(than score) bool {
	switch {
	case s.height != than.height:
		return s.height < than.height
	case s.joins != than.joins:
		return s.joins < than.joins
	}
	return s.far > than.far
}

// bruteJoined tries every whole length of every part, for strips of one or two parts at
// least, and every way to put the parts into rows.
func bruteJoined(strips []pack.Strip, room int64, loss func(int64) int64, most int) (score, bool) {
	best, found := score{height: 1 << 40}, false
	ways := make([][][]int64, len(strips))
	for i, s := range strips {
		ways[i] = everyParting(s, room, loss(s.Width), most)
	}
	heights := map[string]int64{}
	var parts []int64
	var width []int64
	var joins int
	var far int64
	at := make([]int, len(strips))
	var each func(i int)
	each = func(i int) {
		if i == len(strips) {
			if sum := sumOf(parts, width); sum > best.height*room || found && sum > (best.height-1)*room && !(score{best.height, joins, far}).better(best) {
				return
			}
			items := make([]int64, len(parts))
			for k := range parts {
				items[k] = parts[k]<<8 | width[k]
			}
			slices.Sort(items)
			key := fmt.Sprint(items)
			h, ok := heights[key]
			if !ok {
				h = bruteHeight(parts, width, room, 1<<30)
				heights[key] = h
			}
			if h <= best.height {
				if s := (score{h, joins, far}); !found || s.better(best) {
					best, found = s, true
				}
			}
			return
		}
		s := strips[i]
		for k, way := range ways[i] {
			if i > 0 && s == strips[i-1] && k < at[i-1] {
				continue // the two may be changed for each other
			}
			at[i] = k
			n := len(parts)
			parts = append(parts, way...)
			for range way {
				width = append(width, s.Width)
			}
			away := awayOf(s, way, loss(s.Width))
			joins, far = joins+len(way)-1, far+away
			each(i + 1)
			parts, width, joins, far = parts[:n], width[:n], joins-len(way)+1, far-away
		}
	}
	each(0)
	return best, found
}

// everyParting is every list of parts that makes up the strip by the rule: a join's whole
// lies at least a tail from either end, and no two joins touch. One that is a turned
// other is left out.
func everyParting(s pack.Strip, room, loss int64, most int) (all [][]int64) {
	if s.Length <= room {
		all = append(all, []int64{s.Length})
	}
	var starts []int64 // of the joins
	var next func(from int64)
	next = func(from int64) {
		if len(starts) > 0 {
			var parts []int64
			at := int64(0)
			for _, x := range starts {
				parts = append(parts, x+loss-at)
				at = x
			}
			parts = append(parts, s.Length-at)
			turned := slices.Clone(parts)
			slices.Reverse(turned)
			if slices.Max(parts) <= room && slices.Compare(parts, turned) <= 0 {
				all = append(all, parts)
			}
		}
		if len(starts)+1 == most {
			return
		}
		for x := from; x+loss <= s.Length-s.Tail; x++ {
			starts = append(starts, x)
			next(x + loss)
			starts = starts[:len(starts)-1]
		}
	}
	next(s.Tail)
	return all
}

func awayOf(s pack.Strip, parts []int64, loss int64) (sum int64) {
	at := int64(0)
	for _, n := range parts[:len(parts)-1] {
		at += n - loss
		off := 2*at + loss - s.Length
		sum += max(off, -off)
	}
	return sum
}

// bruteHeight is the least height of rows that hold these parts, tried in every way; more
// than enough where it is over a limit.
func bruteHeight(parts, width []int64, room, limit int64) int64 {
	best := limit + 1
	var free, high []int64
	var put func(i int, sum int64)
	put = func(i int, sum int64) {
		if sum >= best {
			return
		}
		if i == len(parts) {
			best = sum
			return
		}
		for r := range free {
			if free[r] >= parts[i] {
				more := max(width[i]-high[r], 0)
				free[r], high[r] = free[r]-parts[i], high[r]+more
				put(i+1, sum+more)
				free[r], high[r] = free[r]+parts[i], high[r]-more
			}
		}
		free, high = append(free, room-parts[i]), append(high, width[i])
		put(i+1, sum+width[i])
		free, high = free[:len(free)-1], high[:len(high)-1]
	}
	put(0, 0)
	return best
}

// sumOf is the fabric that parts are.
func sumOf(parts, width []int64) (sum int64) {
	for i := range parts {
		sum += parts[i] * width[i]
	}
	return sum
}

// scoreOf reads a layout: how high, how many joins, how far these lie from the middles.
func scoreOf(task pack.Task, layout *pack.Layout, loss func(int64) int64) score {
	s := score{height: layout.Length}
	for i, parts := range partsOf(task, layout) {
		s.joins += len(parts) - 1
		s.far += awayOf(task.Strips[i], parts, loss(task.Strips[i].Width))
	}
	return s
}

func partsOf(task pack.Task, layout *pack.Layout) [][]int64 {
	all := make([][]int64, len(task.Strips))
	for i := range all {
		var parts []pack.Part
		for _, p := range layout.Parts {
			if p.Strip == i {
				parts = append(parts, p)
			}
		}
		slices.SortFunc(parts, func(a, b pack.Part) int { return a.Number - b.Number })
		for _, p := range parts {
			all[i] = append(all[i], p.Length)
		}
	}
	return all
}

// Two pairs of strips, as of one border, in whole numbers small enough to try every length
// of every part in every row, of up to three parts a strip.
func TestJoinedStripsAreTheBestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		room := rapid.Int64Range(8, 14).Draw(t, "room")
		straight := rapid.Bool().Draw(t, "straight")
		loss := func(width int64) int64 {
			if straight {
				return 1
			}
			return width
		}
		var task pack.Task
		task.Work = 20000
		for _, name := range []string{"sides", "top and bottom"} {
			s := pack.Strip{Width: rapid.Int64Range(1, 2).Draw(t, name+" width"), Length: rapid.Int64Range(room/2, 2*room-3).Draw(t, name)}
			s.Tail = rapid.Int64Range(0, s.Length/3).Draw(t, name+" tail")
			task.Strips = append(task.Strips, s, s)
		}
		if rapid.Bool().Draw(t, "three") {
			task.Strips = task.Strips[:3]
		}
		layout, proved := task.Joined(room, loss)
		want, ok := bruteJoined(task.Strips, room, loss, 3)
		if !ok {
			t.Skip("joins can't keep to their place")
		}
		checkJoined(t, task, layout, room, loss)
		got, many := scoreOf(task, layout, loss), 0
		for _, parts := range partsOf(task, layout) {
			many = max(many, len(parts))
		}
		if task.Strips[0].Width != task.Strips[len(task.Strips)-1].Width {
			want.far, got.far = 0, 0 // as high from other rows, with as many joins: not looked for
		}
		if want.better(got) || many <= 3 && got.better(want) {
			t.Fatalf("%+v from rows of %d, straight %t: %+v, proved %t; by trying everything %+v\n%+v", task.Strips, room, straight, got, proved, want, layout)
		}
	})
}

// checkJoined holds every strip to come together from its parts, their joins where they
// may be, and no part over another.
func checkJoined(t rapid.TB, task pack.Task, layout *pack.Layout, room int64, loss func(int64) int64) {
	t.Helper()
	lanes := map[int64][]pack.Part{}
	for _, p := range layout.Parts {
		for _, other := range lanes[p.Lane] {
			if p.Along < other.Along+other.Length && other.Along < p.Along+p.Length {
				t.Errorf("%+v lies over %+v", p, other)
			}
		}
		lanes[p.Lane] = append(lanes[p.Lane], p)
		if p.Along < 0 || p.Along+p.Length > room || p.Lane+p.Width > layout.Length || p.Width != task.Strips[p.Strip].Width {
			t.Errorf("%+v lies beyond its row of %d, or the length of %d, or is not as wide as its strip", p, room, layout.Length)
		}
		for at := range lanes {
			if at > p.Lane && p.Lane+p.Width > at || at < p.Lane && slices.ContainsFunc(lanes[at], func(o pack.Part) bool { return at+o.Width > p.Lane }) {
				t.Errorf("%+v reaches into the row at %d", p, at)
			}
		}
	}
	for i, parts := range partsOf(task, layout) {
		s, e := task.Strips[i], loss(task.Strips[i].Width)
		at, before := int64(0), s.Tail
		for k, n := range parts {
			at += n - e
			if k == len(parts)-1 {
				if at+e != s.Length {
					t.Errorf("strip %d of %v comes to %d; want %d", i, parts, at+e, s.Length)
				}
				break
			}
			if at < before || at+e > s.Length-s.Tail {
				t.Errorf("strip %d, %+v, of %v has a join from %d to %d", i, s, parts, at, at+e)
			}
			before = at + e
		}
	}
}

// Two unequal bands: a join would lie on the miter when rows are cut to their ends. Of two
// strips of 80 from rows of 40, straight joins of 1/2, three parts each are needed; the
// least end part is the tail of 10, and 2 clear, and the join. In sixteenths of an inch.
func TestNoPartIsOnlyTail(t *testing.T) {
	in := func(n float64) int64 { return int64(n * 16) }
	task := pack.Task{Work: 5000, Strips: []pack.Strip{
		{Width: in(6), Length: in(87.5), Tail: in(12)}, {Width: in(6), Length: in(87.5), Tail: in(12)}}}
	loss := func(int64) int64 { return in(0.5) }
	layout, proved := task.Joined(in(40), loss)
	checkJoined(t, task, layout, in(40), loss)
	// 40 + 40 + 8 1/2 would be the rows to their ends. The long part in the middle, 40 and
	// 40, and 12 1/2 and 36 at the ends: six parts, of which 12 1/2 twice share a row.
	if got := scoreOf(task, layout, loss); got.height != in(30) || got.joins != 4 || !proved {
		t.Errorf("two of 87 1/2: %+v, proved %t; want five rows of 6, four joins", got, proved)
	}
}

// A side too short for a join that keeps clear of the dots: the join lies in the middle.
func TestAJoinThatCantKeepClearLiesInTheMiddle(t *testing.T) {
	loss := func(width int64) int64 { return width }
	for _, c := range []struct {
		length, tail int64
		want         []int64
	}{
		{100, 44, []int64{60, 60}},          // a join of 20 between 44 and 56
		{100, 80, []int64{60, 60}},          // tails that lap
		{160, 50, []int64{70, 60, 70}},      // 200 in all: joins of 20 in 60, which would do with 20 clear
		{150, 75, []int64{75, 40, 75}},      // 190 in all: two joins side by side about the middle
		{180, 90, []int64{80, 60, 80}},      // 220 in all, no end longer than a row
		{230, 110, []int64{80, 65, 65, 80}}, // 290 in all
	} {
		task := pack.Task{Work: 2000, Strips: []pack.Strip{{Width: 20, Length: c.length, Tail: c.tail}}}
		layout, _ := task.Joined(80, loss)
		got := partsOf(task, layout)[0]
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("a strip of %d, tails of %d, from rows of 80: %v; want %v", c.length, c.tail, got, c.want)
		}
	}
}

// Strips of 36 1/2 that fit a row are joined only where that saves one: four of them take
// four rows of 40, and three of 26 take two rows, with one join.
func TestAStripThatFitsIsJoinedOnlyToSaveARow(t *testing.T) {
	loss := func(int64) int64 { return 1 }
	for _, c := range []struct {
		name          string
		length        int64
		many          int
		height, joins int64
	}{
		{"no row to save", 73, 4, 4, 0},
		{"a row saved", 52, 3, 2, 1},
	} {
		task := pack.Task{Work: 5000}
		for range c.many {
			task.Strips = append(task.Strips, pack.Strip{Width: 1, Length: c.length, Tail: 6})
		}
		layout, proved := task.Joined(80, loss)
		checkJoined(t, task, layout, 80, loss)
		if got := scoreOf(task, layout, loss); got.height != c.height || int64(got.joins) != c.joins || !proved {
			t.Errorf("%s: %+v, proved %t; want %d rows and %d joins", c.name, got, proved, c.height, c.joins)
		}
	}
}

// With a print each part has a motif before it, in which the print is found: three strips
// of 100 from rows of 160, a join of 10, take two rows without a print, and three with one
// of 40.
func TestPartsWithAPrintTakeMore(t *testing.T) {
	strip := pack.Strip{Width: 5, Length: 100, Tail: 10}
	loss := func(int64) int64 { return 10 }
	for _, c := range []struct{ motif, want int64 }{{0, 10}, {40, 15}} {
		task := pack.Task{Strips: []pack.Strip{strip, strip, strip}, Motif: c.motif, Work: 2000}
		layout, proved := task.Joined(160, loss)
		if layout == nil || layout.Length != c.want || !proved {
			t.Errorf("three of 100 from rows of 160, print of %d: %+v, proved %t; want %d", c.motif, layout, proved, c.want)
		}
	}
}

// Parts and whole strips that are cut from one fabric lie on one print: joined, the strip has
// its motif, or its gap, in the middle, and the print goes on over each join.
func TestPartsLieOnOnePrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		task := pack.Task{Motif: 2 * rapid.Int64Range(2, 40).Draw(t, "motif"), Work: 500}
		loss := func(width int64) int64 { return width }
		room := task.Motif + rapid.Int64Range(60, 120).Draw(t, "room")
		for range rapid.IntRange(1, 6).Draw(t, "strips") {
			task.Strips = append(task.Strips, pack.Strip{
				Width:  rapid.Int64Range(2, 8).Draw(t, "width"),
				Length: 2 * rapid.Int64Range(10, 120).Draw(t, "length"),
				Gap:    rapid.Bool().Draw(t, "gap"),
				Tail:   10,
			})
		}
		layout, _ := task.Joined(room, loss)
		if layout == nil {
			return
		}
		checkJoined(t, task, layout, room, loss)
		var print []int64 // where a motif lies, of each part
		for i, s := range task.Strips {
			begins := int64(0)
			for n := int64(0); n <= pack.MaxParts; n++ {
				for _, p := range layout.Parts {
					if p.Strip != i || int64(p.Number) != n {
						continue
					}
					motif := s.Length/2 - begins + p.Along
					if s.Gap {
						motif += task.Motif / 2
					}
					print = append(print, motif)
					begins += p.Length - loss(p.Width)
				}
			}
		}
		for _, at := range print {
			if (at-print[0])%task.Motif != 0 {
				t.Fatalf("%+v has motifs at %d; want one print every %d", layout, print, task.Motif)
			}
		}
	})
}

// Of rows with a stripe the one that gains most comes last, as it need not end on a step.
func TestTheLastOfJoinedRowsNeedNotEndOnAStep(t *testing.T) {
	task := pack.Task{Strips: []pack.Strip{{Width: 9, Length: 100}, {Width: 11, Length: 100}}, Step: 10, Work: 2000}
	// 9 takes a step of 10, 11 takes 20, or 11 at the end: 10 + 10 + 11.
	layout, proved := task.Joined(100, func(int64) int64 { return 4 })
	if layout == nil || layout.Length != 31 || !proved {
		t.Errorf("rows of 9 and 11, steps of 10: %+v, proved %t; want 31", layout, proved)
	}
}

// More than MaxParts for one strip is no strip: a row of 100 that loses 99 to a join gives
// one grain more each.
func TestAStripOfTooManyPartsIsNone(t *testing.T) {
	for long, want := range map[int64]bool{138: true, 140: false} {
		task := pack.Task{Strips: []pack.Strip{{Width: 5, Length: long}}, Work: 2000}
		layout, proved := task.Joined(100, func(int64) int64 { return 99 })
		if (layout != nil) != want || !proved {
			t.Errorf("a strip of %d: %d parts at most, proved %t; want one: %t", long, pack.MaxParts, proved, want)
		}
	}
}

// Twelve borders of one fabric, strips of many widths and lengths: every join is in its
// place, and the rows are not many more than the fabric that the strips are.
func TestManyJoinedStripsAreCutWell(t *testing.T) {
	var task pack.Task
	task.Work = 20000
	area := int64(0)
	loss := func(width int64) int64 { return width }
	for i := range int64(12) {
		s := pack.Strip{Width: 16 + 6*i, Length: 640 + 90*i, Tail: 140}
		task.Strips = append(task.Strips, s, s)
		s.Length += 110
		task.Strips = append(task.Strips, s, s)
	}
	layout, _ := task.Joined(640, loss)
	checkJoined(t, task, layout, 640, loss)
	for i, parts := range partsOf(task, layout) {
		for _, n := range parts {
			area += n * task.Strips[i].Width
		}
	}
	if most := (area + 639) / 640 * 112 / 100; layout.Length > most {
		t.Errorf("48 strips take %d; want at most %d, which is their parts and an eighth", layout.Length, most)
	}
}
