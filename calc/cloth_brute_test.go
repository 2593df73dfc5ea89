package calc_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// Every way to part some strips among lanes, every order in a lane, every lane
// last: slow and plain, in sixteenths of an inch, as another would reckon it.

type plain struct {
	width, length int
	gap           bool
}

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
func laneLength(strips []plain, heap []int, motif int) int {
	if motif == 0 {
		sum := 0
		for _, i := range heap {
			sum += strips[i].length
		}
		return sum
	}
	best := math.MaxInt
	permutations(append([]int(nil), heap...), func(order []int) {
		first := strips[order[0]]
		origin := motif + first.length/2 // a motif, or a gap
		end := motif + first.length
		for _, i := range order[1:] {
			s := strips[i]
			right := 0
			if s.gap != first.gap {
				right = motif / 2
			}
			middle := end + s.length/2
			for (middle-origin)%motif != right {
				middle++
			}
			end = middle + s.length/2
		}
		best = min(best, end)
	})
	return best
}

func lanesWidth(strips []plain, heaps [][]int, step int) int {
	best := math.MaxInt
	for last := range heaps {
		at := step
		for k, heap := range heaps {
			wide := 0
			for _, i := range heap {
				wide = max(wide, strips[i].width)
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

// bruteLengthwise and bruteCrosswise are −1 where nothing fits.
func bruteLengthwise(strips []plain, usable, step, motif int) int {
	best := -1
	partitions(len(strips), func(heaps [][]int) {
		if lanesWidth(strips, heaps, step) > usable {
			return
		}
		long := 0
		for _, heap := range heaps {
			long = max(long, laneLength(strips, heap, motif))
		}
		if best < 0 || long < best {
			best = long
		}
	})
	return best
}

func bruteCrosswise(strips []plain, usable, step, motif int) int {
	best := -1
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

// bruteJoined is for strips of one width without stripe or motif: a tape of n
// rows is n rows long but for what n − 1 joins lose.
func bruteJoined(strips []plain, usable, loss int) int {
	best := -1
	partitions(len(strips), func(heaps [][]int) {
		rows := 0
		for _, heap := range heaps {
			tape, n := usable, 1
			for tape < laneLength(strips, heap, 0) {
				tape += usable - loss
				n++
			}
			rows += n
		}
		if total := rows * strips[0].width; best < 0 || total < best {
			best = total
		}
	})
	return best
}

// bruteTape is for strips of any widths: every order, and behind every strip
// either on along the tape or a fresh row. The tape is walked a sixteenth at a time.
func bruteTape(strips []plain, usable int, loss func(width int) int) int {
	best := -1
	all := []int{}
	for i := range strips {
		all = append(all, i)
	}
	permutations(all, func(order []int) {
		for fresh := range 1 << len(order) {
			rows, at := []int{}, usable
			for k, i := range order {
				s := strips[i]
				if k == 0 || fresh>>k&1 == 1 {
					rows, at = append(rows, 0), 0
				}
				for left := s.length; left > 0; left-- {
					if at >= usable {
						rows, at = append(rows, 0), loss(s.width)
					}
					rows[len(rows)-1] = max(rows[len(rows)-1], s.width)
					at++
				}
			}
			total := 0
			for _, high := range rows {
				total += high
			}
			if best < 0 || total < best {
				best = total
			}
		}
	})
	return best
}

func TestUnequalJoinedStripsAreTheLeastOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		usable, cut, other := num("usable", 130, 400), num("cut", 10, 60), num("cutTopBottom", 10, 60)
		join, loss := "straight", func(int) int { return 8 }
		if rapid.Bool().Draw(t, "diagonal") {
			join, loss = "diagonal", func(width int) int { return width }
		}
		plan := fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"cut":%q,"cutTopBottom":%q,"cloth":{"usableWidth":%q,"join":%q,"runs":"crosswise"}}],"spare":"4"}`,
			inches(num("width", 100, 900)), inches(num("length", 300, 900)), inches(cut), inches(other), inches(usable), join)
		s := sheetOf(t, plan)
		strips := plainOf(s, 1, calc.Pair[calc.Centering]{})
		if len(s.Notes) > 0 || max(strips[0].length, strips[2].length) <= usable {
			t.Skip("nothing to join, or cut to its least length")
		}
		checkLength(t, plan, "joined", s.Cloth[0].Crosswise, bruteTape(strips, usable, loss))
	})
}

const sixteen = 16

func inches(n int) string { return fmt.Sprintf("%d/%d", n, sixteen) }

// plainOf reads the strips back from the sheet.
func plainOf(s calc.Sheet, border int, centering calc.Pair[calc.Centering]) []plain {
	var list []plain
	for _, x := range s.Strips {
		if border == 0 || x.Border == border {
			p := plain{
				width:  int(math.Round(x.CutWidth.Length.Float(calc.Inch) * sixteen)),
				length: int(math.Round(x.CutLength.Length.Float(calc.Inch) * sixteen)),
				gap:    centering.On(x.Edges) == calc.OnGap,
			}
			list = append(list, p, p)
		}
	}
	return list
}

func checkLength(t *rapid.T, plan, what string, way *calc.Way, want int) {
	t.Helper()
	if way.Fits != (want >= 0) {
		t.Fatalf("%s\n%s: fits = %t (%s); by trying everything the least is %d/16", plan, what, way.Fits, way.Why, want)
	}
	if want >= 0 {
		if got := way.Length.Length.Float(calc.Inch) * sixteen; got != float64(want) {
			t.Fatalf("%s\n%s: length %g/16; by trying everything %d/16", plan, what, got, want)
		}
	}
}

// A border's four strips, any width, stripe, motif and cloth.
func TestOneBorderIsTheLeastOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		cut := num("cut", 10, 140)
		cutTopBottom := cut
		if rapid.Bool().Draw(t, "unequal") {
			cutTopBottom = max(10, min(140, cut+num("differs", -24, 24)))
		}
		stripe, motif := "", ""
		step, repeat := 0, 0
		if rapid.Bool().Draw(t, "striped") {
			step = num("stripe", 4, 60)
			stripe = fmt.Sprintf(`,"stripe":%q`, inches(step))
		}
		if rapid.Bool().Draw(t, "printed") {
			repeat = 2 * num("motif", 8, 120)
			motif = fmt.Sprintf(`,"motif":%q`, inches(repeat))
		}
		usable := num("usable", 100, 1400)
		plan := fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"cut":%q,"cutTopBottom":%q%s%s,"cloth":{"usableWidth":%q,"join":"none"}}],"spare":%q}`,
			inches(2*num("width", 20, 500)), inches(2*num("length", 20, 500)), inches(cut), inches(cutTopBottom), stripe, motif, inches(usable), inches(2*num("spare", 0, 64)))
		s := sheetOf(t, plan)
		if len(s.Notes) > 0 && cut != cutTopBottom && s.Strips[0].CutLength.Length.Equal(s.Strips[0].LeastLength.Length.Round(calc.Inch, calc.CutUp)) {
			t.Skip("a strip cut to its least length")
		}
		among := []calc.Pair[calc.Centering]{{Sides: calc.OnMotif, TopBottom: calc.OnMotif}}
		if repeat > 0 && cut == cutTopBottom {
			among = nil
			for _, m := range calc.Centerings(planOf(t, plan), 1) {
				if m.Mismatch.Length.Equal(s.Match[0].Mismatch.Length) {
					among = append(among, m.Centering)
				}
			}
		}
		along, across := -1, -1
		for _, c := range among {
			strips := plainOf(s, 1, c)
			if n := bruteLengthwise(strips, usable, step, repeat); n >= 0 && (along < 0 || n < along) {
				along = n
			}
			if n := bruteCrosswise(strips, usable, step, repeat); n >= 0 && (across < 0 || n < across) {
				across = n
			}
		}
		checkLength(t, plan, "lengthwise", s.Cloth[0].Lengthwise, along)
		checkLength(t, plan, "crosswise", s.Cloth[0].Crosswise, across)
	})
}

func TestJoinedStripsAreTheLeastOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		cut, usable := num("cut", 10, 100), num("usable", 200, 900)
		join, loss := "straight", 8
		if rapid.Bool().Draw(t, "diagonal") {
			join, loss = "diagonal", cut
		}
		plan := fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"cut":%q,"cloth":{"usableWidth":%q,"join":%q,"runs":"crosswise"}}],"spare":"1"}`,
			inches(num("width", 40, 1600)), inches(num("length", 40, 1600)), inches(cut), inches(usable), join)
		s := sheetOf(t, plan)
		strips := plainOf(s, 1, calc.Pair[calc.Centering]{})
		want := bruteJoined(strips, usable, loss)
		if max(strips[0].length, strips[2].length) <= usable {
			want = bruteCrosswise(strips, usable, 0, 0) // what fits alone is not joined
		}
		checkLength(t, plan, "joined", s.Cloth[0].Crosswise, want)
	})
}

// Two borders from one cloth: eight strips, 4140 ways to part them.
func TestSharedClothIsTheLeastOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		step, stripe := 0, ""
		if rapid.Bool().Draw(t, "striped") {
			step = num("stripe", 4, 40)
			stripe = fmt.Sprintf(`,"stripe":%q`, inches(step))
		}
		usable := num("usable", 200, 900)
		cloth := fmt.Sprintf(`%s,"cloth":{"name":"dusk","usableWidth":%q,"join":"none"}`, stripe, inches(usable))
		plan := fmt.Sprintf(`{"center":{"width":%q,"length":%q},"borders":[{"cut":%q%s},{"cut":%q%s}],"spare":"0"}`,
			inches(num("width", 40, 600)), inches(num("length", 40, 600)), inches(num("inner", 10, 90)), cloth, inches(num("outer", 10, 90)), cloth)
		s := sheetOf(t, plan)
		strips := plainOf(s, 0, calc.Pair[calc.Centering]{})
		checkLength(t, plan, "lengthwise", s.Together[0].Lengthwise, bruteLengthwise(strips, usable, step, 0))
		checkLength(t, plan, "crosswise", s.Together[0].Crosswise, bruteCrosswise(strips, usable, step, 0))
	})
}
