package calc

import (
	"fmt"
	"os"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// bins packs lengths, so many of each, into lanes of one width: the packing core
// as plain bin packing.
func bins(t testing.TB, lengths map[int64]int, room int64, work int) (n int, proved bool) {
	t.Helper()
	p := &packer{work: work}
	for l, many := range lengths {
		x := lot{length: l}
		for range many {
			x.widths = append(x.widths, 1)
		}
		p.lots = append(p.lots, x)
	}
	sort.Slice(p.lots, func(i, j int) bool { return p.lots[i].length > p.lots[j].length })
	lanes, proved := p.least(room, 1<<40)
	left := map[int64]int{}
	for l, many := range lengths {
		left[l] = many
	}
	for _, lane := range lanes {
		var sum int64
		for i, many := range lane.counts {
			sum += int64(many) * p.lots[i].length
			left[p.lots[i].length] -= many
		}
		if sum > room {
			t.Errorf("a bin of %d holds %d", room, sum)
		}
	}
	for l, many := range left {
		if many != 0 {
			t.Errorf("%d of length %d are not packed", many, l)
		}
	}
	return len(lanes), proved
}

func TestPackingReachesTheKnownOptima(t *testing.T) {
	data, err := os.ReadFile("../testdata/packing/u120.txt")
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
		want, _ := strconv.Atoi(fields[0])
		name := fmt.Sprintf("u120_%02d", seen)
		seen++
		t.Run(name, func(t *testing.T) {
			if got, proved := bins(t, lengths, 150, 200000); got != want || !proved {
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
		want    int
		proved  bool
		source  string
	}{
		{"cutting stock of 100", 100, map[int64]int{45: 97, 36: 610, 31: 395, 14: 211}, 453, false,
			"V. Chvátal, Linear Programming, 1983 (instance from memory; optimum worked out with glpsol)"},
		{"cutting stock of 5600", 5600, map[int64]int{1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20}, 73, true,
			`Wikipedia, "Cutting stock problem"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, proved := bins(t, c.lengths, c.room, 200000)
			if got != c.want || proved != c.proved {
				t.Errorf("%s: %d, proved %t; want %d, proved %t (%s)", c.name, got, proved, c.want, c.proved, c.source)
			}
		})
	}
}
