package draw_test

import (
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A mark is one element of a drawing as the eye gets it: its places on the page.
type mark struct {
	element, class, text string
	places               [][2]float64
	parts                [][][2]float64 // a path's own, one for each M
	fill                 string
	inLoupe              bool
	loupe                [2]float64 // the middle of the round window
	on                   matrix     // of a text, and its anchor there
	anchor               [2]float64
}

type matrix [6]float64

func (m matrix) at(x, y float64) [2]float64 {
	return [2]float64{m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]}
}

func (m matrix) of(n matrix) matrix {
	o := m.at(n[4], n[5])
	return matrix{m[0]*n[0] + m[2]*n[1], m[1]*n[0] + m[3]*n[1], m[0]*n[2] + m[2]*n[3], m[1]*n[2] + m[3]*n[3], o[0], o[1]}
}

// read takes a drawing apart, and fails on whatever is not well-formed.
func read(t *testing.T, svg string) (label string, marks []mark) {
	t.Helper()
	type level struct {
		m     matrix
		loupe bool
		eye   [2]float64
	}
	stack := []level{{m: matrix{1, 0, 0, 1, 0, 0}}}
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return label, marks
		}
		if err != nil {
			t.Fatalf("not well-formed: %v in %s", err, svg)
		}
		switch e := token.(type) {
		case xml.StartElement:
			here := stack[len(stack)-1]
			a := map[string]string{}
			for _, attr := range e.Attr {
				a[attr.Name.Local] = attr.Value
			}
			if a["transform"] != "" {
				var m matrix
				copy(m[:], numbers(t, strings.TrimSuffix(strings.TrimPrefix(a["transform"], "matrix("), ")")))
				here.m = here.m.of(m)
			}
			if a["clip-path"] != "" {
				here.loupe, here.eye = true, here.m.at(0, 0)
			}
			stack = append(stack, here)
			k := mark{element: e.Name.Local, class: a["class"], fill: a["fill"], inLoupe: here.loupe, loupe: here.eye}
			switch e.Name.Local {
			case "svg":
				label = a["aria-label"]
				continue
			case "path":
				for _, d := range strings.Split(a["d"], "M")[1:] {
					var part [][2]float64
					for _, p := range pathPlaces(t, "M"+d) {
						part = append(part, here.m.at(p[0], p[1]))
					}
					k.parts, k.places = append(k.parts, part), append(k.places, part...)
				}
			case "circle":
				x, y, r := number(t, a["cx"]), number(t, a["cy"]), number(t, a["r"])
				k.places = [][2]float64{here.m.at(x-r, y-r), here.m.at(x+r, y+r)}
			case "use", "text":
				if a["href"] != "" {
					k.class = strings.TrimPrefix(a["href"], "#")
				}
				k.on, k.anchor = here.m, [2]float64{number(t, a["x"]), number(t, a["y"])}
				k.places = [][2]float64{here.m.at(k.anchor[0], k.anchor[1])}
				k.text = a["text-anchor"]
			}
			marks = append(marks, k)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if n := len(marks); n > 0 && marks[n-1].element == "text" {
				marks[n-1] = set(marks[n-1], string(e))
			}
		}
	}
}

// set gives a text its words, and its box in place of its anchor.
func set(k mark, words string) mark {
	size := 40.0
	switch k.class {
	case "tn":
		size = 44
	case "tl", "tf":
		size = 24
	}
	wide := size * 0.47 * float64(len([]rune(words))) // measured in the shipped typeface, on the wide side
	left, y := k.anchor[0], k.anchor[1]
	switch k.text {
	case "middle":
		left -= wide / 2
	case "end":
		left -= wide
	}
	k.text = words
	a, b := k.on.at(left, y-0.7*size), k.on.at(left+wide, y+0.1*size) // turned by quarters at most
	k.places = [][2]float64{{min(a[0], b[0]), min(a[1], b[1])}, {max(a[0], b[0]), max(a[1], b[1])}}
	return k
}

var numberForm = regexp.MustCompile(`-?[0-9.]+`)

func numbers(t *testing.T, s string) []float64 {
	t.Helper()
	if strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
		t.Fatalf("no number: %s", s)
	}
	var out []float64
	for _, n := range numberForm.FindAllString(s, -1) {
		out = append(out, number(t, n))
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	if s == "" {
		return 0
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		t.Fatalf("no number: %q", s)
	}
	return x
}

var command = regexp.MustCompile(`[MLZQqtl][^MLZQqtl]*`)

// pathPlaces are the places that a path goes through.
func pathPlaces(t *testing.T, d string) [][2]float64 {
	t.Helper()
	var at [2]float64
	var out [][2]float64
	for _, c := range command.FindAllString(d, -1) {
		n := numbers(t, c[1:])
		step := map[byte]int{'M': 2, 'L': 2, 'Q': 4, 'q': 4, 't': 2, 'l': 2, 'Z': 0}[c[0]]
		for i := 0; step > 0 && i+step <= len(n); i += step {
			to := [2]float64{n[i+step-2], n[i+step-1]}
			if c[0] >= 'a' {
				to[0], to[1] = to[0]+at[0], to[1]+at[1]
			}
			at = to
			out = append(out, at)
		}
	}
	return out
}
