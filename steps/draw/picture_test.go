package draw_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"cornerwise/steps/draw"
)

var update = flag.Bool("update", false, "write testdata/pictures anew")

// recorded are quilts of every kind that the drawings tell apart, by the file that their
// pictures are recorded in.
var recorded = map[string]string{
	"striped":      "one striped border",
	"unequal":      "unequal, a motif",
	"four":         "four borders",
	"centimeters":  "in centimeters",
	"lines":        "lines on unequal bands",
	"coping-sides": "coping on the sides",
	"coping-top":   "narrow coping on top and bottom",
	"lines-motif":  "lines and a motif",
	"flat":         "a very flat miter",
	"aslant":       "joined aslant",
	"end-on-end":   "joined end on end",
}

var inPicture = regexp.MustCompile(`-?\d+(?:\.\d+)?`)

// sumOf is how many numbers a picture holds, and their sum, each with a weight by where
// it stands: it is another when one line goes elsewhere.
func sumOf(svg string) (n int, sum float64) {
	for i, s := range inPicture.FindAllString(svg, -1) {
		x, _ := strconv.ParseFloat(s, 64)
		sum += x * float64(1+i%7)
		n++
	}
	return n, sum
}

// A picture changes on purpose only. Who changes one looks at it, and records it anew:
// go test ./steps/draw -run Recorded -update
func TestEveryPictureIsAsItWasRecorded(t *testing.T) {
	all := quilts(t)
	for file, name := range recorded {
		path := filepath.Join("..", "..", "testdata", "pictures", file+".txt")
		got := picturesOf(all[name])
		if *update {
			if err := os.WriteFile(path, []byte(strings.Join(got, "\n")+"\n"), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		want := strings.Split(strings.TrimSpace(string(data)), "\n")
		if len(got) != len(want) {
			t.Errorf("%s: %d pictures, want %d", file, len(got), len(want))
		}
		differ := 0
		for i := range min(len(got), len(want)) {
			if alike(got[i], want[i]) {
				continue
			}
			if differ++; differ <= 5 {
				t.Errorf("%s: the picture is %q, recorded as %q", file, got[i], want[i])
			}
		}
		if differ > 5 {
			t.Errorf("%s: and %d pictures more", file, differ-5)
		}
	}
}

// alike tells whether two lines of a recording are of one picture: another processor may
// round a tenth of a unit otherwise.
func alike(a, b string) bool {
	ofA, numbersA, _ := strings.Cut(a, ": ")
	ofB, numbersB, _ := strings.Cut(b, ": ")
	var nA, nB int
	var sumA, sumB float64
	fmt.Sscan(numbersA, &nA, &sumA)
	fmt.Sscan(numbersB, &nB, &sumB)
	return ofA == ofB && nA == nB && math.Abs(sumA-sumB) < 1
}

// picturesOf are all pictures of a quilt, a line each.
func picturesOf(q draw.Quilt) []string {
	var all []string
	add := func(of, svg string) {
		n, sum := sumOf(svg)
		all = append(all, fmt.Sprintf("%s: %d %.1f", of, n, sum))
	}
	for _, s := range scenes(q) {
		of := fmt.Sprint(s.Kind, " ", s.Act, " ", s.Edge, s.Edges)
		for _, part := range []struct {
			word string
			n    int
		}{{"border", s.Border}, {"corner", s.Corner}} {
			if part.n > 0 {
				of += fmt.Sprintf(" %s %d", part.word, part.n)
			}
		}
		add(of, q.Draw(s))
	}
	for corner := 1; corner <= 4; corner++ {
		add(fmt.Sprint("quarter ", corner), q.Quarter(corner))
	}
	add("face", q.Face("", draw.Sewn{Edges: map[string]bool{"left": true}, Corners: map[int]bool{1: true}}))
	for i, need := range q.Sheet.Fabric {
		for _, lengthwise := range []bool{true, false} {
			way := need.Crosswise
			if lengthwise {
				way = need.Lengthwise
			}
			if way != nil && way.Fits {
				add(fmt.Sprintf("layout of border %d, lengthwise %v", i+1, lengthwise), q.Layout(way, lengthwise))
				add(fmt.Sprintf("page of border %d, lengthwise %v", i+1, lengthwise), q.LayoutPage(way, lengthwise, false).SVG)
			}
		}
	}
	add("patterns", q.Defs())
	return all
}
