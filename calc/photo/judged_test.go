package photo_test

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"cornerwise/calc/photo"
	"cornerwise/calc/photo/made"
)

// Limits were set on seeds 1, 11, 12 and 13. Judge by others: go test ./calc/photo -run Judged -all
// -seed 101 -v (10 minutes; -every 4 takes a quarter of the pictures).
var (
	judgedSeed  = flag.Uint64("seed", 1, "of the fabrics that are judged")
	judgedAll   = flag.Bool("all", false, "judge every fabric, at full size")
	judgedEvery = flag.Int("every", 1, "judge every n-th picture of all")
)

// A judged direction is one whose truth is known.
type judged string

const (
	right  judged = "right"
	asked  judged = "asked"  // a person is asked, with what is true or without it
	missed judged = "missed" // no repeat is told where there is one
	wrong  judged = "wrong but sure"
)

func judge(truth made.Truth, d photo.Direction) judged {
	near := func(p float64) bool { return math.Abs(p/truth.Period-1) <= 0.01 }
	switch {
	case d.Kind == photo.Look:
		return asked
	case truth.Plain && d.Kind == photo.Plain:
		return right
	case truth.Plain && d.Kind == photo.None:
		return asked
	case truth.Period > 0 && d.Kind == photo.Sure && near(d.Period):
		return right
	case truth.Period > 0 && d.Kind == photo.None:
		return missed
	case truth.Period == 0 && !truth.Plain && d.Kind == photo.None:
		return right
	}
	return wrong
}

// askedOf is what somebody asks who touched the corners of the picture.
func askedOf(s made.Shot, pic made.Picture) photo.Asked {
	a := photo.Asked{Sheet: photo.Sheet{Width: s.SheetW, Length: s.SheetH}}
	for i, q := range pic.Touched {
		x, y := min(float64(s.W-1), max(0, q.X)), min(float64(s.H-1), max(0, q.Y))
		a.Corners[i] = photo.Point{X: x, Y: y}
	}
	return a
}

var fabricsOfOne = sync.OnceValue(func() []made.Fabric { return made.Fabrics(1) })

// TestJudgedByPicturesOfKnownTruth takes a small share in the usual run.
func TestJudgedByPicturesOfKnownTruth(t *testing.T) {
	if *judgedAll {
		judgeAll(t)
		return
	}
	withoutRace(t)
	shots := map[string]int{"two lines": 0, "gingham": 1, "half-drop": 0,
		"a flower in other colors": 0, "floral aslant": 0}
	for i, f := range fabricsOfOne() {
		k, ok := shots[f.Name]
		if !ok {
			continue
		}
		s := made.Shots(rand.New(rand.NewPCG(1, uint64(i))), 640)[k]
		for axis, got := range judgeOne(t, f, s, rand.New(rand.NewPCG(1, uint64(100*i+k)))) {
			if got == wrong || got == missed {
				t.Errorf("%s, %s, %s: %s", f.Name, s.Name, []string{"along", "across"}[axis], got)
			}
		}
	}
}

// withoutRace leaves a test out under the race detector, which finds nothing where there are no
// goroutines, and takes ten times as long.
func withoutRace(t *testing.T) {
	t.Helper()
	if raceDetector {
		t.Skip("looks at pictures: run without the race detector")
	}
}

// judgeOne is what was found along and across.
func judgeOne(t *testing.T, f made.Fabric, s made.Shot, rng *rand.Rand) []judged {
	t.Helper()
	pic := made.Take(f, s, rng)
	p, err := photo.Read(context.Background(), pic.JPEG)
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.Flat(context.Background(), askedOf(s, pic))
	if err != nil {
		t.Fatalf("%s, %s: %v", f.Name, s.Name, err)
	}
	if len(got.Tile) > 40<<10 || len(got.Pair) > 80<<10 {
		t.Errorf("%s, %s: a tile of %d bytes, a pair of %d", f.Name, s.Name, len(got.Tile), len(got.Pair))
	}
	along, across := judge(f.Along, got.Along), judge(f.Across, got.Across)
	if *judgedAll && (along == wrong || across == wrong || testing.Verbose()) {
		t.Logf("%-30s %-5s along %-7s %+v | across %-7s %+v | %s", f.Name, s.Name,
			along, got.Along, across, got.Across, got.Doubt)
	}
	return []judged{along, across}
}

// judgeAll takes every fabric of a seed, and fails when one is wrong but sure.
func judgeAll(t *testing.T) {
	count := map[string]map[judged]int{}
	n := 0
	for i, f := range made.Fabrics(*judgedSeed) {
		for k, s := range made.Shots(rand.New(rand.NewPCG(*judgedSeed, uint64(i))), 2400) {
			if n++; n%*judgedEvery != 0 {
				continue
			}
			if count[s.Name] == nil {
				count[s.Name] = map[judged]int{}
			}
			rng := rand.New(rand.NewPCG(*judgedSeed, uint64(100*i+k)))
			for _, got := range judgeOne(t, f, s, rng) {
				count[s.Name][got]++
				if got == wrong {
					t.Errorf("%s, %s: %s", f.Name, s.Name, got)
				}
			}
		}
	}
	var lines []string
	for name, c := range count {
		lines = append(lines, fmt.Sprintf("%-5s right %d, asked %d, missed %d, wrong but sure %d",
			name, c[right], c[asked], c[missed], c[wrong]))
	}
	slices.Sort(lines)
	t.Logf("seed %d\n%s", *judgedSeed, strings.Join(lines, "\n"))
}
