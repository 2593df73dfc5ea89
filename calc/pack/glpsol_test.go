package pack_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"cornerwise/calc/pack"
)

// The GNU linear programming kit (Debian's glpk-utils) as another reckoner: which
// patterns to cut how often, as an integer program.
func TestPackingAgreesWithGlpsol(t *testing.T) {
	needGlpsol(t)
	rng := rand.New(rand.NewPCG(8, 48))
	for i := range 8 {
		room := int64(200 + rng.IntN(200))
		lengths := map[int64]int{}
		for range 8 {
			lengths[room/6+rng.Int64N(room/2)] = 1 + rng.IntN(6)
		}
		t.Run(fmt.Sprintf("random %d", i), func(t *testing.T) {
			n, proved := bins(t, lengths, room)
			if want := glpsol(t, lengths, room); n != want || !proved {
				t.Errorf("%d bins of %d for %v, proved %t; glpsol needs %d", n, room, lengths, proved, want)
			}
		})
	}
	// Chvátal's, which the packing core reaches but does not prove.
	if got := glpsol(t, map[int64]int{45: 97, 36: 610, 31: 395, 14: 211}, 100); got != 453 {
		t.Errorf("glpsol needs %d bins; want 453", got)
	}
}

// Strips of many widths and lengths, as of several borders of one fabric, both ways, as an
// integer program over the strips: strip k leads a lane or lies in one that a wider
// strip leads.
func TestLanesOfManyWidthsAgreeWithGlpsol(t *testing.T) {
	needGlpsol(t)
	rng := rand.New(rand.NewPCG(3, 12))
	for i := range 6 {
		task := pack.Task{Work: 20000}
		for range 8 { // two alike, as for opposite edges
			s := pack.Strip{Width: 4 + rng.Int64N(20), Length: 80 + rng.Int64N(100)}
			task.Strips = append(task.Strips, s, s)
		}
		usable := 240 + rng.Int64N(120)
		t.Run(fmt.Sprintf("random %d", i), func(t *testing.T) {
			columns, proved := task.Columns(usable)
			checkLaid(t, task, columns, columns.Length)
			want := int64(math.Round(solve(t, laneProgram(task.Strips, usable, true), "fabric")))
			if columns.Length != want || !proved {
				t.Errorf("%v in columns across %d: %d, proved %t; glpsol needs %d", task.Strips, usable, columns.Length, proved, want)
			}
			rows, proved := task.Rows(usable)
			checkLaid(t, task, rows, usable)
			want = int64(math.Round(solve(t, laneProgram(task.Strips, usable, false), "fabric")))
			if rows.Length != want || !proved {
				t.Errorf("%v in rows of %d: %d, proved %t; glpsol needs %d", task.Strips, usable, rows.Length, proved, want)
			}
		})
	}
}

func laneProgram(strips []pack.Strip, usable int64, along bool) string {
	all := append([]pack.Strip(nil), strips...)
	sort.SliceStable(all, func(i, j int) bool { return all[j].Width < all[i].Width })
	var sum, rows, only, binary strings.Builder
	for k, lead := range all {
		fmt.Fprintf(&sum, " + %d x%d_%d", lead.Width, k, k)
		fmt.Fprintf(&rows, "lane%d:", k)
		for i := k; i < len(all); i++ {
			length := all[i].Length
			if i == k && !along {
				length -= usable // what the lane gives
			}
			fmt.Fprintf(&rows, " %+d x%d_%d", length, i, k)
			if i > k {
				fmt.Fprintf(&only, "with%d_%d: x%d_%d - x%d_%d <= 0\n", i, k, i, k, k, k)
			}
			fmt.Fprintf(&binary, "x%d_%d\n", i, k)
		}
		if along {
			fmt.Fprint(&rows, " - tall")
		}
		fmt.Fprint(&rows, " <= 0\n")
		fmt.Fprintf(&only, "once%d:", k)
		for j := 0; j <= k; j++ {
			fmt.Fprintf(&only, " + x%d_%d", k, j)
		}
		fmt.Fprint(&only, " = 1\n")
	}
	goal := "fabric:" + sum.String() + "\nsubject to\n"
	if along {
		goal = fmt.Sprintf("fabric: tall\nsubject to\nacross: %s <= %d\n", sum.String(), usable)
	}
	return "minimize\n" + goal + rows.String() + only.String() + "binary\n" + binary.String() + "end\n"
}

func needGlpsol(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("glpsol is missing: install glpk-utils")
		}
		t.Skip("glpsol is not installed: apt-get install glpk-utils")
	}
}

func glpsol(t *testing.T, lengths map[int64]int, room int64) int64 {
	t.Helper()
	var kinds []int64
	for l := range lengths {
		kinds = append(kinds, l)
	}
	var patterns [][]int64
	counts := make([]int64, len(kinds))
	var fill func(k int, left int64)
	fill = func(k int, left int64) {
		if k == len(kinds) {
			patterns = append(patterns, append([]int64(nil), counts...))
			return
		}
		for counts[k] = 0; counts[k]*kinds[k] <= left; counts[k]++ {
			fill(k+1, left-counts[k]*kinds[k])
		}
		counts[k] = 0
	}
	fill(0, room)

	var lp bytes.Buffer
	fmt.Fprint(&lp, "minimize\nbins:")
	for i := range patterns {
		fmt.Fprintf(&lp, " + x%d\n", i)
	}
	fmt.Fprint(&lp, "subject to\n")
	for k, l := range kinds {
		fmt.Fprintf(&lp, "k%d:", k)
		for i, p := range patterns {
			if p[k] > 0 {
				fmt.Fprintf(&lp, " + %d x%d\n", p[k], i)
			}
		}
		fmt.Fprintf(&lp, ">= %d\n", lengths[l])
	}
	fmt.Fprint(&lp, "general\n")
	for i := range patterns {
		fmt.Fprintf(&lp, "x%d\n", i)
	}
	fmt.Fprint(&lp, "end\n")
	return int64(solve(t, lp.String(), "bins"))
}

// solve is the optimum of a program whose objective has that name.
func solve(t *testing.T, program, objective string) float64 {
	t.Helper()
	dir := t.TempDir()
	file, out := filepath.Join(dir, "program"), filepath.Join(dir, "solution")
	if err := os.WriteFile(file, []byte(program), 0o644); err != nil {
		t.Fatal(err)
	}
	if said, err := exec.Command("glpsol", "--lp", file, "-o", out, "--cuts", "--tmlim", "60").CombinedOutput(); err != nil {
		t.Fatalf("glpsol: %v\n%s", err, said)
	}
	solution, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(solution), "INTEGER OPTIMAL") {
		t.Fatalf("glpsol did not finish:\n%.300s", solution)
	}
	_, rest, _ := strings.Cut(string(solution), objective+" = ")
	var n float64
	if _, err := fmt.Sscan(rest, &n); err != nil {
		t.Fatalf("glpsol's solution can't be read: %v\n%.300s", err, solution)
	}
	return n
}

// Two pairs of strips of one width, joined from parts by the rule, as an integer program: how
// many rows, and how many joins. A strip is whole, or has an end part at either end and any
// number of parts between, each in some row.
func TestJoinedStripsAgreeWithGlpsol(t *testing.T) {
	needGlpsol(t)
	if testing.Short() {
		t.Skip("glpsol takes a while")
	}
	rng := rand.New(rand.NewPCG(5, 27))
	for i := range 16 {
		const room = 160 // 40 in, in quarters
		width := 8 + rng.Int64N(16)
		loss := width
		if rng.IntN(2) == 0 {
			loss = 2
		}
		task := pack.Task{Work: 20000}
		for range 2 {
			s := pack.Strip{Width: width, Length: 120 + rng.Int64N(130), Tail: width + 17}
			task.Strips = append(task.Strips, s, s)
		}
		t.Run(fmt.Sprintf("random %d", i), func(t *testing.T) {
			layout, proved := task.Joined(room, func(int64) int64 { return loss })
			got := scoreOf(task, layout, func(int64) int64 { return loss })
			rows := int(got.height / width)
			want := int(math.Round(solve(t, joinProgram(task.Strips, room, loss, rows), "cost")))
			if is := 100*rows + got.joins; is != want || !proved {
				t.Errorf("%+v from rows of %d, joins of %d: %d rows and %d joins, proved %t; glpsol has %d and %d",
					task.Strips, room, loss, rows, got.joins, proved, want/100, want%100)
			}
		})
	}
}

func joinProgram(strips []pack.Strip, room, loss int64, rows int) string {
	var goal, rules, binary strings.Builder
	for r := range rows {
		fmt.Fprintf(&goal, " + 100 u%d", r)
		fmt.Fprintf(&binary, "u%d\n", r)
		if r > 0 {
			fmt.Fprintf(&rules, "first%d: u%d - u%d >= 0\n", r, r-1, r)
		}
		fmt.Fprintf(&rules, "row%d:", r)
		for i, s := range strips {
			if s.Length <= room {
				fmt.Fprintf(&rules, " + %d w%d_%d", s.Length, i, r)
			}
			fmt.Fprintf(&rules, " + la%d_%d + lb%d_%d + lm%d_%d", i, r, i, r, i, r)
		}
		fmt.Fprintf(&rules, " - %d u%d <= 0\n", room, r)
	}
	for i, s := range strips {
		var whole, a, b, sum strings.Builder
		for r := range rows {
			if s.Length <= room {
				fmt.Fprintf(&whole, " + w%d_%d", i, r)
				fmt.Fprintf(&sum, " + %d w%d_%d", s.Length+loss, i, r) // no join of two end parts
				fmt.Fprintf(&goal, " - w%d_%d", i, r)
				fmt.Fprintf(&binary, "w%d_%d\n", i, r)
			}
			fmt.Fprintf(&a, " + a%d_%d", i, r)
			fmt.Fprintf(&b, " + b%d_%d", i, r)
			fmt.Fprintf(&goal, " + m%d_%d", i, r)
			fmt.Fprintf(&sum, " + la%d_%d + lb%d_%d + lm%d_%d - %d m%d_%d", i, r, i, r, i, r, loss, i, r)
			for _, x := range []struct {
				kind  string
				least int64
			}{{"a", s.Tail + loss}, {"b", s.Tail + loss}, {"m", 2 * loss}} {
				fmt.Fprintf(&rules, "most%s%d_%d: l%s%d_%d - %d %s%d_%d <= 0\n", x.kind, i, r, x.kind, i, r, room, x.kind, i, r)
				fmt.Fprintf(&rules, "least%s%d_%d: l%s%d_%d - %d %s%d_%d >= 0\n", x.kind, i, r, x.kind, i, r, x.least, x.kind, i, r)
				fmt.Fprintf(&binary, "%s%d_%d\n", x.kind, i, r)
			}
		}
		fmt.Fprintf(&rules, "a%d:%s%s = 1\nb%d:%s%s = 1\n", i, a.String(), whole.String(), i, b.String(), whole.String())
		fmt.Fprintf(&rules, "long%d:%s = %d\n", i, sum.String(), s.Length+loss)
	}
	// A strip has a join more than parts between, and one that is whole has none.
	return "minimize\ncost: " + fmt.Sprint(len(strips)) + " one" + goal.String() + "\nsubject to\n" + rules.String() + "one: one = 1\nbinary\n" + binary.String() + "end\n"
}
