package pack_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc/pack"
)

// Every way to part some strips among lanes, every order in a lane, every lane
// last: slow and plain, as another would reckon it.

// partitions calls f with every way to put n things into heaps.
func partitions(n int, f func([][]int)) {
	var grow func(i int, heaps [][]int)
	grow = func(i int, heaps [][]int) {
		if i == n {
			f(heaps)
			return
		}
		for k := range heaps {
			heaps[k] = append(heaps[k], i)
			grow(i+1, heaps)
			heaps[k] = heaps[k][:len(heaps[k])-1]
		}
		grow(i+1, append(heaps[:len(heaps):len(heaps)], []int{i}))
	}
	grow(0, nil)
}

func permutations(list []int, f func([]int)) {
	var swap func(k int)
	swap = func(k int) {
		if k == len(list) {
			f(list)
			return
		}
		for i := k; i < len(list); i++ {
			list[k], list[i] = list[i], list[k]
			swap(k + 1)
			list[k], list[i] = list[i], list[k]
		}
	}
	swap(0)
}

// laneLength tries every order, sliding each strip on from where the last ends
// until its middle lies right.
func laneLength(strips []pack.Strip, heap []int, motif int64) int64 {
	if motif == 0 {
		sum := int64(0)
		for _, i := range heap {
			sum += strips[i].Length
		}
		return sum
	}
	best := int64(math.MaxInt64)
	permutations(append([]int(nil), heap...), func(order []int) {
		first := strips[order[0]]
		origin := motif + first.Length/2 // a motif, or a gap
		end := motif + first.Length
		for _, i := range order[1:] {
			s := strips[i]
			right := int64(0)
			if s.Gap != first.Gap {
				right = motif / 2
			}
			middle := end + s.Length/2
			for (middle-origin)%motif != right {
				middle++
			}
			end = middle + s.Length/2
		}
		best = min(best, end)
	})
	return best
}

func lanesWidth(strips []pack.Strip, heaps [][]int, step int64) int64 {
	best := int64(math.MaxInt64)
	for last := range heaps {
		at := step
		for k, heap := range heaps {
			wide := int64(0)
			for _, i := range heap {
				wide = max(wide, strips[i].Width)
			}
			if k != last && step > 0 {
				wide = (wide + step - 1) / step * step
			}
			at += wide
		}
		best = min(best, at)
	}
	return best
}

// bruteColumns and bruteRows are −1 where nothing fits.
func bruteColumns(strips []pack.Strip, usable, step, motif int64) int64 {
	best := int64(-1)
	partitions(len(strips), func(heaps [][]int) {
		if lanesWidth(strips, heaps, step) > usable {
			return
		}
		long := int64(0)
		for _, heap := range heaps {
			long = max(long, laneLength(strips, heap, motif))
		}
		if best < 0 || long < best {
			best = long
		}
	})
	return best
}

func bruteRows(strips []pack.Strip, usable, step, motif int64) int64 {
	best := int64(-1)
	partitions(len(strips), func(heaps [][]int) {
		for _, heap := range heaps {
			if laneLength(strips, heap, motif) > usable {
				return
			}
		}
		if total := lanesWidth(strips, heaps, step); best < 0 || total < best {
			best = total
		}
	})
	return best
}

// drawStrips are a few strips with even lengths, some of them alike, as opposite edges are.
func drawStrips(t *rapid.T, most int, long int64) []pack.Strip {
	var list []pack.Strip
	for n := rapid.IntRange(1, most).Draw(t, "strips"); len(list) < n; {
		s := pack.Strip{
			Width:  rapid.Int64Range(4, 60).Draw(t, "width"),
			Length: 2 * rapid.Int64Range(4, long/2).Draw(t, "length"),
			Gap:    rapid.Bool().Draw(t, "gap"),
		}
		list = append(list, s)
		if rapid.Bool().Draw(t, "two alike") {
			list = append(list, s)
		}
	}
	return list
}

// checkLeast holds a layout to the least length that trying everything found, −1 for none.
func checkLeast(t *rapid.T, task pack.Task, what string, layout *pack.Layout, proved bool, want int64) {
	t.Helper()
	if (layout != nil) != (want >= 0) || !proved {
		t.Fatalf("%+v in %s: %+v, proved %t; by trying everything %d", task, what, layout, proved, want)
	}
	if layout != nil && layout.Length != want {
		t.Fatalf("%+v in %s: %d; by trying everything %d", task, what, layout.Length, want)
	}
}

// Strips of any widths and lengths, with a stripe, a print or neither.
func TestLanesAreTheLeastOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		task := pack.Task{Strips: drawStrips(t, 4, 200), Work: 20000}
		if rapid.Bool().Draw(t, "striped") {
			task.Step = rapid.Int64Range(2, 40).Draw(t, "step")
		}
		if rapid.Bool().Draw(t, "printed") {
			task.Motif = 2 * rapid.Int64Range(2, 40).Draw(t, "motif")
		}
		usable := rapid.Int64Range(20, 600).Draw(t, "usable")
		columns, proved := task.Columns(usable)
		checkLeast(t, task, "columns", columns, proved, bruteColumns(task.Strips, usable, task.Step, task.Motif))
		rows, proved := task.Rows(usable)
		checkLeast(t, task, "rows", rows, proved, bruteRows(task.Strips, usable, task.Step, task.Motif))
		for _, x := range []struct {
			layout *pack.Layout
			room   int64
			length int64
		}{{columns, math.MaxInt64, usable}, {rows, usable, math.MaxInt64}} {
			if x.layout == nil {
				continue
			}
			if x.length == usable {
				x.room = x.layout.Length
			} else {
				x.length = x.layout.Length
			}
			checkLaid(t, task, x.layout, x.room)
			checkPrint(t, task, x.layout, x.length)
		}
	})
}

// checkPrint holds every lane to start on a whole step and to end within the length, and
// every strip to lie on its motif or gap of one print.
func checkPrint(t *rapid.T, task pack.Task, layout *pack.Layout, across int64) {
	t.Helper()
	first := map[int64]pack.Part{}
	for _, p := range layout.Parts {
		if task.Step > 0 && (p.Lane < task.Step || p.Lane%task.Step != 0) || p.Lane+p.Width > across {
			t.Errorf("%+v lies across %d, with steps of %d", p, across, task.Step)
		}
		if other, ok := first[p.Lane]; !ok || p.Along < other.Along {
			first[p.Lane] = p
		}
	}
	if task.Motif == 0 {
		return
	}
	f := layout.Parts[0]
	for _, p := range layout.Parts {
		off := p.Along + p.Length/2 - f.Along - f.Length/2
		if task.Strips[p.Strip].Gap != task.Strips[f.Strip].Gap {
			off += task.Motif / 2
		}
		if off%task.Motif != 0 {
			t.Errorf("%+v lies off its print, which repeats every %d, with %+v", p, task.Motif, f)
		}
	}
	for _, p := range first {
		if p.Along <= 0 || p.Along > task.Motif {
			t.Errorf("%+v is the first of its lane; want it up to %d in", p, task.Motif)
		}
	}
}

// With work for a few lanes only a layout is found all the same, and not called the least.
func TestWithLittleWorkNothingIsProved(t *testing.T) {
	var task pack.Task
	for i := range int64(10) {
		task.Strips = append(task.Strips, pack.Strip{Width: 10 + i%7, Length: 2 * (40 + 7*i%31)})
	}
	for _, work := range []int{1, 5} {
		task.Work = work
		if columns, proved := task.Columns(60); columns == nil || proved {
			t.Errorf("work %d: columns %v, proved %t; want a layout that is not proved", work, columns != nil, proved)
		}
		if joined, proved := task.Joined(150, func(width int64) int64 { return width }); joined == nil || proved {
			t.Errorf("work %d: joined %v, proved %t; want a layout that is not proved", work, joined != nil, proved)
		}
	}
}

// What does not fit is none, and that is proved.
func TestWhatIsTooWideOrTooLongIsNone(t *testing.T) {
	task := pack.Task{Strips: []pack.Strip{{Width: 20, Length: 100}}, Step: 8, Motif: 30, Work: 100}
	for room, want := range map[int64]bool{28: true, 27: false} {
		if columns, proved := task.Columns(room); (columns != nil) != want || !proved {
			t.Errorf("20 wide, a step in, across %d: %+v, proved %t; want some: %t", room, columns, proved, want)
		}
	}
	for room, want := range map[int64]bool{130: true, 129: false} {
		if rows, proved := task.Rows(room); (rows != nil) != want || !proved {
			t.Errorf("100 long, a motif in, in rows of %d: %+v, proved %t; want some: %t", room, rows, proved, want)
		}
	}
}
