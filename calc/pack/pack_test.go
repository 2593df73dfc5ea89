package pack_test

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc/pack"
)

// bins packs lengths, so many of each, into lanes one wide: plain bin packing.
func bins(t *testing.T, lengths map[int64]int, room int64) (n int64, proved bool) {
	t.Helper()
	task := pack.Task{Work: 200000}
	for l, many := range lengths {
		for range many {
			task.Strips = append(task.Strips, pack.Strip{Width: 1, Length: l})
		}
	}
	layout, proved := task.Rows(room)
	checkLaid(t, task, layout, room)
	return layout.Length, proved
}

// checkLaid holds every strip to lie there once, as it is, none over another, and within
// the layout: lanes of at most this room, side by side.
func checkLaid(t rapid.TB, task pack.Task, layout *pack.Layout, room int64) {
	t.Helper()
	laid := make([]int, len(task.Strips))
	lanes := map[int64][]pack.Part{}
	for _, p := range layout.Parts {
		laid[p.Strip]++
		s := task.Strips[p.Strip]
		if p.Width != s.Width || p.Length != s.Length || p.Number != 0 {
			t.Errorf("strip %d, %+v, is laid as %+v", p.Strip, s, p)
		}
		if p.Lane < 0 || p.Along < 0 || p.Along+p.Length > room {
			t.Errorf("%+v does not lie within a lane of %d", p, room)
		}
		for _, other := range lanes[p.Lane] {
			if p.Along < other.Along+other.Length && other.Along < p.Along+p.Length {
				t.Errorf("%+v lies over %+v", p, other)
			}
		}
		lanes[p.Lane] = append(lanes[p.Lane], p)
	}
	for i, n := range laid {
		if n != 1 {
			t.Errorf("strip %d is laid %d times", i, n)
		}
	}
	for at, parts := range lanes {
		for _, p := range parts {
			for other := range lanes {
				if other > at && at+p.Width > other {
					t.Errorf("%+v reaches into the lane at %d", p, other)
				}
			}
		}
	}
}

func TestPackingReachesTheKnownOptima(t *testing.T) {
	data, err := os.ReadFile("../../testdata/packing/u120.txt")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, line := range strings.Split(string(data), "\n") {
		fields := strings.Fields(line)
		if len(fields) == 0 || fields[0] == "#" {
			continue
		}
		lengths := map[int64]int{}
		for _, f := range fields[1:] {
			l, err := strconv.ParseInt(f, 10, 64)
			if err != nil {
				t.Fatal(err)
			}
			lengths[l]++
		}
		want, _ := strconv.ParseInt(fields[0], 10, 64)
		name := fmt.Sprintf("u120_%02d", seen)
		seen++
		t.Run(name, func(t *testing.T) {
			if got, proved := bins(t, lengths, 150); got != want || !proved {
				t.Errorf("%s: %d bins, proved %t; want %d (E. Falkenauer 1996; OR-Library)", name, got, proved, want)
			}
		})
	}
	if seen != 20 {
		t.Fatalf("%d instances of u120; want 20", seen)
	}
	for _, c := range []struct {
		name    string
		room    int64
		lengths map[int64]int
		want    int64
		proved  bool
		source  string
	}{
		{"cutting stock of 100", 100, map[int64]int{45: 97, 36: 610, 31: 395, 14: 211}, 453, false,
			"V. Chvátal, Linear Programming, 1983 (instance from memory; optimum worked out with glpsol)"},
		{"cutting stock of 5600", 5600, map[int64]int{1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20}, 73, true,
			`Wikipedia, "Cutting stock problem"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, proved := bins(t, c.lengths, c.room)
			if got != c.want || proved != c.proved {
				t.Errorf("%s: %d, proved %t; want %d, proved %t (%s)", c.name, got, proved, c.want, c.proved, c.source)
			}
		})
	}
}
