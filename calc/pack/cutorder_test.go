package pack_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc/pack"
)

// Strips are cut in the order of the task: from the lane before never comes one that is cut
// later, unless every way to do without takes more fabric. All ways to cut the order into
// lanes are tried.
func TestNoStripIsCutBehindTheOneBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		task := pack.Task{Strips: drawStrips(t, 3, 200), Work: 20000}
		if rapid.Bool().Draw(t, "striped") {
			task.Step = rapid.Int64Range(2, 40).Draw(t, "step")
		}
		if rapid.Bool().Draw(t, "printed") {
			task.Motif = 2 * rapid.Int64Range(2, 40).Draw(t, "motif")
		}
		usable := rapid.Int64Range(20, 600).Draw(t, "usable")
		columns, _ := task.Columns(usable)
		if columns != nil && goesBack(columns) {
			inOrder(task, func(long, wide int64) {
				if long <= columns.Length && wide <= usable {
					t.Fatalf("%+v across %d: %+v goes back; lanes in order would be %d high too", task, usable, columns, long)
				}
			})
		}
		rows, _ := task.Rows(usable)
		if rows != nil && goesBack(rows) {
			inOrder(task, func(long, wide int64) {
				if long <= usable && wide <= rows.Length {
					t.Fatalf("%+v in rows of %d: %+v goes back; rows in order would be %d high too", task, usable, rows, wide)
				}
			})
		}
	})
}

func goesBack(layout *pack.Layout) bool {
	lane := map[int]int64{}
	for _, p := range layout.Parts {
		lane[p.Strip] = p.Lane
	}
	for i := 1; i < len(lane); i++ {
		if lane[i] < lane[i-1] {
			return true
		}
	}
	return false
}

// inOrder calls f with the length of the longest lane and the width of all, for every way to
// cut the strips' order into lanes.
func inOrder(task pack.Task, f func(long, wide int64)) {
	n := len(task.Strips)
	for cuts := range 1 << (n - 1) {
		long, at, from := int64(0), task.Step, 0
		for i := range n {
			if i < n-1 && cuts>>i&1 == 0 {
				continue
			}
			heap, wide := []int{}, int64(0)
			for k := from; k <= i; k++ {
				heap = append(heap, k)
				wide = max(wide, task.Strips[k].Width)
			}
			length := laneLength(task.Strips, heap, task.Motif)
			if task.Motif > 0 && length == math.MaxInt64 {
				return
			}
			long = max(long, length)
			if i < n-1 && task.Step > 0 {
				wide = (wide + task.Step - 1) / task.Step * task.Step
			}
			at += wide
			from = i + 1
		}
		f(long, at)
	}
}

// Rows of joined strips come in the order in which their parts are cut: of two strips in two
// parts each, that share no row, none is gone back for.
func TestRowsOfPartsComeInTheirOrder(t *testing.T) {
	task := pack.Task{Work: 4000, Strips: []pack.Strip{{Width: 4, Length: 120, Tail: 10}, {Width: 4, Length: 120, Tail: 10}, {Width: 3, Length: 130, Tail: 10}}}
	layout, _ := task.Joined(70, func(int64) int64 { return 2 })
	lane, number := int64(0), map[int]int{}
	for strip := range task.Strips {
		for n := 1; n <= 3; n++ {
			for _, p := range layout.Parts {
				if p.Strip == strip && p.Number == n {
					if p.Lane < lane {
						t.Errorf("%+v lies before the part that is cut before it", p)
					}
					lane, number[strip] = p.Lane, n
				}
			}
		}
	}
	if number[0] != 2 || number[2] != 2 {
		t.Errorf("parts: %v; want two of each strip", number)
	}
}
