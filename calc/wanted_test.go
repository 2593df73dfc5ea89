package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

// A 12 in drop on both sides and the foot: twin 63 x 87, full 78 x 87, queen 84 x 92,
// king 100 x 92. Source: school slides on bed quilts, which agree with the nominal
// sizes; those are of the Better Sleep Council (crib 27 x 52) and as sold.
func TestAQuiltThatHangsDown(t *testing.T) {
	for name, want := range map[string]string{"twin": "63 in x 87 in", "full": "78 in x 87 in", "queen": "84 in x 92 in", "king": "100 in x 92 in"} {
		m, ok := calc.MattressNamed(name)
		if !ok {
			t.Errorf("%s: there is no such mattress", name)
		}
		got := calc.Covered(m.Size, length(t, "12"))
		if shown := got.Width.Value("in") + " in x " + got.Length.Value("in") + " in"; shown != want {
			t.Errorf("%s with a drop of 12: %s, want %s", name, shown, want)
		}
	}
	if m, _ := calc.MattressNamed("crib"); m.Size.Width.Value("in") != "27" || m.Size.Length.Value("in") != "52" {
		t.Errorf("crib: %s x %s, want 27 x 52", m.Size.Width.Value("in"), m.Size.Length.Value("in"))
	}
	if _, ok := calc.MattressNamed("hammock"); ok {
		t.Error("there is a mattress by the name of hammock")
	}
}

func sizeOf(t rapid.TB, width, long string) calc.Size {
	return calc.Size{Width: length(t, width), Length: length(t, long)}
}

func TestWidthsForASizeThatIsWanted(t *testing.T) {
	const two = `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"1 1/2"},{"name":"ticking","cut":"5 1/2"%s}]}`
	for _, c := range []struct {
		name, plan, width, length string
		want                      []string
	}{
		// The center finishes at 60 x 80. 72 x 92 leaves 6 on each side, 1 of them the
		// first border's: 5, cut 5 1/2, as it is (derived).
		{"as planned", fmt.Sprintf(two, ""), "72", "92", []string{"5 1/2 in, 5 1/2 in: 72 in x 92 in meets"}},
		// 84 leaves 12 on each side, 92 leaves 6 above and below (derived).
		{"a queen's mattress, unequal", fmt.Sprintf(two, `,"motif":"6"`), "84", "92", []string{
			"11 1/2 in, 5 1/2 in: 84 in x 92 in meets; The bands differ, so the miters are not at 45 degrees and the print can't mirror.",
			"11 1/2 in, 11 1/2 in: 84 in x 104 in misses 12 in more long",
			"5 1/2 in, 5 1/2 in: 72 in x 92 in misses 12 in less wide"}},
		// Without a motif nothing has to mirror. 84 − 60 - 2 x 5 leaves 7 a side, cut 7 1/2; 92 leaves 1, cut 1 1/2.
		{"of the inner border, unequal, no print", fmt.Sprintf(two, ""), "84", "92", []string{
			"7 1/2 in, 1 1/2 in: 84 in x 92 in meets; The bands differ, so the miters are not at 45 degrees.",
			"7 1/2 in, 7 1/2 in: 84 in x 104 in misses 12 in more long",
			"1 1/2 in, 1 1/2 in: 72 in x 92 in misses 12 in less wide"}},
		{"between the lines both ways", fmt.Sprintf(two, ""), "72 1/16", "91 15/16", []string{
			"5 1/2 in, 5 1/2 in: 72 in x 92 in misses 1/16 in less wide, and 1/16 in more long"}},
		// 200 is the widest cut that is reckoned: 199 1/2 finished, 20 + 399 = 419.
		{"as wide as is reckoned", `{"center":{"width":"20 1/2","length":"20 1/2"},"borders":[{"name":"ticking","cut":"3"}]}`, "419", "419", []string{
			"200 in, 200 in: 419 in x 419 in meets"}},
		{"an eighth wider than is reckoned", `{"center":{"width":"20 1/2","length":"20 1/2"},"borders":[{"name":"ticking","cut":"3"}]}`, "419 1/4", "419", []string{
			"can't: ticking would have to be cut 200 1/8 in wide; the most that is reckoned is 200 in. Take a larger center, or one more border."}},
		// 80 1/4 leaves 1/8 on each side, 60 1/4 too: cut 5/8, the least that shows.
		{"hardly more than the center", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"ticking","cut":"3"}]}`, "60 1/4", "80 1/4", []string{
			"5/8 in, 5/8 in: 60 1/4 in x 80 1/4 in meets"}},
		// 72 1/16 wants 5 1/32 of the border; a strip is cut on an eighth, so 5 1/2 (derived).
		{"between the ruler's lines", fmt.Sprintf(two, ""), "72 1/16", "92", []string{"5 1/2 in, 5 1/2 in: 72 in x 92 in misses 1/16 in less wide"}},
		{"smaller than the center and the other border", fmt.Sprintf(two, ""), "61", "92", []string{
			"can't: The center and the other borders finish at 62 in wide; nothing is left of 61 in for ticking. Take a larger size, a smaller center, or other borders narrower."}},
		{"as long as the center alone", `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"ticking","cut":"3"}]}`, "72", "80", []string{
			"can't: The center alone finishes at 80 in long; nothing is left of 80 in for ticking. Take a larger size, a smaller center, or other borders narrower."}},
		{"far too large", `{"center":{"width":"20 1/2","length":"20 1/2"},"borders":[{"name":"ticking","cut":"3"}]}`, "500", "500", []string{
			"can't: ticking would have to be cut 240 1/2 in wide; the most that is reckoned is 200 in. Take a larger center, or one more border."}},
		{"in centimeters", `{"unit":"cm","center":{"width":"92.7","length":"123.2"},"borders":[{"name":"ticking","cut":"6.5"}]}`, "111.2 cm", "141.7 cm", []string{
			"11.5 cm, 11.5 cm: 111.2 cm x 141.7 cm meets"}},
	} {
		p := planOf(t, c.plan)
		border := len(p.Borders)
		if strings.Contains(c.name, "inner border") {
			border = 1
		}
		w := calc.NewWanted(p, border, sizeOf(t, c.width, c.length))
		var got []string
		if w.Cant != "" {
			got = append(got, "can't: "+w.Cant)
		}
		for _, f := range w.Fits {
			s := fmt.Sprintf("%s, %s: %s x %s", f.Cut.Shown(), f.CutTopBottom.Shown(), f.Finished.Width.Shown(), f.Finished.Length.Shown())
			if f.Meets {
				s += " meets"
			}
			if f.Misses != "" {
				s += " misses " + f.Misses
			}
			if f.But != "" {
				s += "; " + f.But
			}
			got = append(got, s)
		}
		if fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
}

// The first way meets the size to what a strip's width is cut by, on each side of the
// top: a quarter in all. A plan made of a way finishes as that way said.
func TestAWayFinishesAsItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, what) }
		center := [2]int{num("width", 10, 90), num("length", 10, 90)}
		made := func(cut, cutTopBottom string) calc.Plan {
			return planOf(t, fmt.Sprintf(`{"center":{"width":"%d","length":"%d"},"borders":[{"cut":"2"},{"cut":%q,"cutTopBottom":%q}]}`, center[0], center[1], cut, cutTopBottom))
		}
		want := sizeOf(t, fmt.Sprintf("%d/16", num("wanted width", 200, 2000)), fmt.Sprintf("%d/16", num("wanted length", 200, 2000)))
		w := calc.NewWanted(made("3", "3"), 2, want)
		if (w.Cant == "") != (len(w.Fits) > 0) {
			t.Fatalf("%d ways, and %q", len(w.Fits), w.Cant)
		}
		for i, f := range w.Fits {
			s := calc.NewSheet(made(f.Cut.Exactly(), f.CutTopBottom.Exactly()))
			if !s.Finished.Width.Length.Equal(f.Finished.Width.Length) || !s.Finished.Length.Length.Equal(f.Finished.Length.Length) {
				t.Errorf("way %d says %s x %s, its plan %s x %s", i, f.Finished.Width.Shown(), f.Finished.Length.Shown(), s.Finished.Width.Shown(), s.Finished.Length.Shown())
			}
			if i > 0 {
				continue
			}
			for _, off := range []calc.Length{s.Finished.Width.Length.Sub(want.Width), s.Finished.Length.Length.Sub(want.Length)} {
				if off.Sign() < 0 {
					off = calc.Length{}.Sub(off)
				}
				if length(t, "1/8").Less(off) {
					t.Errorf("the first way misses by %s", off.Value(calc.Inch))
				}
			}
		}
	})
}
