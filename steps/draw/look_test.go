package draw_test

import (
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"
)

var setting = regexp.MustCompile(`--([a-z0-9-]+): *(#[0-9a-f]{3,6})`)

// Contrast as WCAG 2.2 defines it.
func contrast(a, b string) float64 {
	light := func(color string) float64 {
		n, _ := strconv.ParseUint(color[1:], 16, 32)
		var sum float64
		for i, share := range []float64{0.0722, 0.7152, 0.2126} {
			c := float64(n>>(8*i)&255) / 255
			if c <= 0.04045 {
				c /= 12.92
			} else {
				c = math.Pow((c+0.055)/1.055, 2.4)
			}
			sum += share * c
		}
		return sum
	}
	x, y := light(a), light(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// WCAG 2.2 SC 1.4.6 and 1.4.11: 7:1 for text, 3:1 for drawings.
func TestBothLooksCanBeSeen(t *testing.T) {
	css, err := os.ReadFile("../../static/drawing.css")
	if err != nil {
		t.Fatal(err)
	}
	looks := map[string]*regexp.Regexp{
		"light":        regexp.MustCompile(`(?s)^.*?:root \{(.*?)\}`),
		"dark":         regexp.MustCompile(`(?s)\n:root\[data-theme="dark"\] \{(.*?)\}`),
		"dark by rule": regexp.MustCompile(`(?s):root:not\(\[data-theme="light"\]\) \{(.*?)\}`),
	}
	for look, block := range looks {
		found := block.FindSubmatch(css)
		if found == nil {
			t.Fatalf("drawing.css has no %s look", look)
		}
		color := map[string]string{}
		for _, m := range setting.FindAllSubmatch(found[1], -1) {
			color[string(m[1])] = string(m[2])
		}
		check := func(least float64, marks, grounds []string) {
			for _, mark := range marks {
				for _, ground := range grounds {
					if got := contrast(color[mark], color[ground]); got < least {
						t.Errorf("%s look: %s on %s has a contrast of %.2f, want %.0f", look, mark, ground, got, least)
					}
				}
			}
		}
		check(7, []string{"ink", "soft", "thread", "chalk"}, []string{"paper", "sheet"})
		check(3, []string{"ink", "thread", "chalk"}, []string{"fabric1", "fabric2", "fabric3", "fabric4", "wrong", "allow", "patch1", "patch2", "patch3", "stripe-c", "coping", "pale"})
		check(3, []string{"ghost"}, []string{"paper", "sheet"})
	}
}
