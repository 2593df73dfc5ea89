package pack_test

import (
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc/pack"
)

// plainFewest is the bound L2 of Martello and Toth as they write it: for every a up to half
// the room, strips over room − a each alone, those over half each in a lane, and what those
// from a to half have beyond the lanes' rest.
func plainFewest(lengths []int64, room int64) int64 {
	best := int64(0)
	for a := int64(0); 2*a <= room; a++ {
		alone, half, rest, small := int64(0), int64(0), int64(0), int64(0)
		for _, l := range lengths {
			switch {
			case l > room-a:
				alone++
			case 2*l > room:
				half++
				rest += room - l
			case l >= a:
				small += l
			}
		}
		more := int64(0)
		for small > rest {
			small -= room
			more++
		}
		best = max(best, alone+half+more)
	}
	return best
}

func lengthsOf(strips []pack.Strip, wide func(pack.Strip) bool) []int64 {
	var list []int64
	for _, s := range strips {
		if wide(s) {
			list = append(list, s.Length)
		}
	}
	return list
}

func TestFewestLanesAreBoundedAsInPrint(t *testing.T) {
	for _, c := range []struct {
		name    string
		lengths []int64
		room    int64
		want    int64
	}{
		{"what fills lanes", []int64{50, 50, 40, 60}, 100, 2},
		{"each over half alone", []int64{60, 60, 60}, 100, 3},
		{"just half goes twice", []int64{50, 50, 50}, 100, 2},
		{"20 does not go beside 90", []int64{90, 90, 20}, 100, 3},
		{"10 does", []int64{90, 90, 10}, 100, 2},
		{"40 does not go beside 70, whatever else does", []int64{70, 70, 40, 10}, 100, 3},
	} {
		var task pack.Task
		for _, l := range c.lengths {
			task.Strips = append(task.Strips, pack.Strip{Width: 1, Length: l})
		}
		if got := pack.Fewest(task, c.room); got != c.want {
			t.Errorf("%s: %v in lanes of %d: at least %d; want %d", c.name, c.lengths, c.room, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		task := pack.Task{Strips: drawStrips(t, 10, 100)}
		room := rapid.Int64Range(100, 200).Draw(t, "room")
		want := plainFewest(lengthsOf(task.Strips, func(pack.Strip) bool { return true }), room)
		if got := pack.Fewest(task, room); got != want {
			t.Errorf("%v in lanes of %d: at least %d; want %d", task.Strips, room, got, want)
		}
	})
}

// The total width is at least as many lanes as the strips from each width up fill, times
// what that width has beyond the next lower one; no packing gets below.
func TestTheTotalWidthIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		task := pack.Task{Strips: drawStrips(t, 4, 100), Work: 20000}
		if rapid.Bool().Draw(t, "striped") {
			task.Step = rapid.Int64Range(2, 40).Draw(t, "step")
		}
		if rapid.Bool().Draw(t, "printed") {
			task.Motif = 2 * rapid.Int64Range(2, 20).Draw(t, "motif")
		}
		room := task.Motif + rapid.Int64Range(100, 200).Draw(t, "room")
		pitch := func(width int64) int64 {
			for task.Step > 0 && width%task.Step != 0 {
				width++
			}
			return width
		}
		sum, slack := task.Step, int64(0)
		for _, s := range task.Strips {
			slack = max(slack, pitch(s.Width)-s.Width)
		}
		for at := int64(1); at <= 200; at++ { // each unit of width by itself
			sum += plainFewest(lengthsOf(task.Strips, func(s pack.Strip) bool { return pitch(s.Width) >= at }), room-task.Motif)
		}
		got := pack.Under(task, room)
		if got != sum-slack {
			t.Errorf("%+v in rows of %d: at least %d wide; want %d", task, room, got, sum-slack)
		}
		if rows, _ := task.Rows(room); rows != nil && rows.Length < got {
			t.Errorf("%+v in rows of %d: %d wide, under the bound of %d", task, room, rows.Length, got)
		}
	})
}
