package calc_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

func wayOf(ways []calc.WayOut, kind string) (calc.WayOut, bool) {
	for _, w := range ways {
		if w.Kind == kind {
			return w, true
		}
	}
	return calc.WayOut{}, false
}

func figure(t rapid.TB, w calc.WayOut, name string) calc.Figure {
	t.Helper()
	for _, f := range w.Figures {
		if f.Name == name {
			return f.Figure
		}
	}
	t.Fatalf("%s has no figure %q: %+v", w.Kind, name, w.Figures)
	return calc.Figure{}
}

func TestCheckStripLength(t *testing.T) {
	// 36 + 2 x 4 + 2 = 46 (M. Rhine, American Quilter's Society); the least is
	// 36 + 8 − 0.29289 = 43.70711, up to 43 3/4 (derived).
	p := planOf(t, one("36", "36", "4", "2"))
	s := calc.NewSheet(p)
	for _, c := range []struct{ name, length, kind, tail, over, short string }{
		{"as planned", "46", calc.Right, "5", "1.146447", "0 in"},
		{"over the least", "44", calc.Covers, "4", "0.146447", "0 in"},
		{"just the least, up to the ruler's line", "43 3/4", calc.Covers, "3.875", "0.021447", "0 in"},
		{"under it", "43 5/8", calc.Short, "3.8125", "-0.041053", "1/8 in"},
		{"under the side", "35", calc.Short, "-0.5", "-4.353553", "8 3/4 in"},
	} {
		got := calc.CheckStrip(p, s, calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, c.length)}, usual)
		if got.Verdict.Kind != c.kind || got.Tail.Value() != c.tail || got.TooShort.Shown() != c.short {
			t.Errorf("%s: %s = %s, tail %s, too short by %s; want %s, %s, %s", c.name, c.length, got.Verdict.Kind, got.Tail.Value(), got.TooShort.Shown(), c.kind, c.tail, c.short)
		}
		if c.kind != calc.Short && got.Over.Value() != c.over {
			t.Errorf("%s: %s = %s over the least at each end; want %s", c.name, c.length, got.Over.Value(), c.over)
		}
		if (c.kind == calc.Short) != (len(got.Ways) > 0) {
			t.Errorf("%s: ways out %+v; want some only where it is too short", c.name, got.Ways)
		}
	}
}

func TestWaysOutOfAShortStrip(t *testing.T) {
	// 36 with a border cut 4 and a strip of 43: 36 + 2w − 0.29289 ≤ 43 gives w ≤ 3.646,
	// so 3 5/8; the top then finishes at 35 1/2 + 2 x 3 1/8 = 41 3/4 (derived).
	p := planOf(t, `{"center":{"width":"36","length":"36"},"borders":[{"name":"rope","cut":"4","fabric":{"join":"straight"}}],"spare":"2"}`)
	check := calc.CheckStrip(p, calc.NewSheet(p), calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, "43")}, usual)
	narrower, ok := wayOf(check.Ways, "narrower")
	if !ok {
		t.Fatalf("ways out %+v; want a narrower border", check.Ways)
	}
	if got := narrower.Change.Cut.Shown(); got != "3 5/8 in" {
		t.Errorf("36, strip of 43: a border cut %s; want 3 5/8 in", got)
	}
	if got := figure(t, narrower, "finished width of the top").Shown(); got != "41 3/4 in" {
		t.Errorf("cut 3 5/8: the top finishes at %s; want 41 3/4 in", got)
	}
	// Whole 46, dot at 17 3/4, 2 in clear and an allowance: the join at 15 1/2. The strip
	// is 23 + 15 1/2 + 1/4 = 38 3/4 of its 43, the piece 23 − 15 1/2 + 1/4 = 7 3/4.
	joined, ok := wayOf(check.Ways, "joined")
	if !ok {
		t.Fatalf("ways out %+v; want a joined piece", check.Ways)
	}
	for name, want := range map[string]string{"cut the strip back by": "4 1/4 in", "piece, long": "7 3/4 in", "join from the middle": "15 1/2 in"} {
		if got := figure(t, joined, name).Shown(); got != want {
			t.Errorf("36, strip of 43, joined: %s %s; want %s", name, got, want)
		}
	}
	// A strip of 46 x 4 with 2 to even: lengthwise 48 in, 1 3/8 yd. Crosswise 46 is two
	// rows of 40, 8 in; with 2 in 10, 3/8 yd (derived).
	fresh, _ := wayOf(check.Ways, "new-strip")
	for name, want := range map[string]string{"buy, lengthwise": "1 3/8 yd", "buy, crosswise": "3/8 yd"} {
		if got := figure(t, fresh, name).Shown(); got != want {
			t.Errorf("a new strip of 46 x 4: %s %s; want %s", name, got, want)
		}
	}
}

// The narrowest that is offered finishes at 1/2 in: cut 1, for which 36 + 2 − 0.29289 =
// 37.70711 is needed. Trimming all to a strip goes as far.
func TestAWayOutLeavesABorderThatShows(t *testing.T) {
	p := planOf(t, one("36", "36", "4", "2"))
	s := calc.NewSheet(p)
	for long, cut := range map[string]string{"37 3/4": "1 in", "37 5/8": ""} {
		check := calc.CheckStrip(p, s, calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, long)}, usual)
		w, ok := wayOf(check.Ways, "narrower")
		if ok != (cut != "") || ok && w.Change.Cut.Shown() != cut {
			t.Errorf("36, strip of %s: a narrower border %t, %+v; want %q", long, ok, w.Change, cut)
		}
	}
	for wide, want := range map[string]bool{"1": true, "15/16": false} {
		check := calc.CheckStrip(p, s, calc.CutStrip{Border: 1, Edges: calc.Sides, Width: length(t, wide), Length: length(t, "46")}, usual)
		if _, ok := wayOf(check.Ways, "trim-all"); ok != want {
			t.Errorf("a strip %s wide: the others trimmed to it %t; want %t", wide, ok, want)
		}
	}
}

// A narrower border is looked for from the narrowest of its strips down, this one as it is
// cut among them, on the ruler's lines, and all strips are held to it, each as it lies there.
func TestANarrowerBorderBeginsAtTheNarrowestStrip(t *testing.T) {
	unequal := `{"center":{"width":"42 1/2","length":"54 1/2"},"borders":[{"name":"gray","cut":"4 1/2","cutTopBottom":"6 1/2"}]}`
	third := `{"center":{"width":"20","length":"20"},"borders":[{"cut":"3 1/3"}],"spare":"1"}`
	for _, c := range []struct {
		name, plan string
		strip      calc.CutStrip
		cut        string
	}{
		// The sides finish at 6; beside 6 7/8, top and bottom cut 6 3/8, a side needs
		// 48 + 2(6 1/4 × 6 7/8 + 1/4 × 9.125)/6 = 63.08.
		{"only the pair that it crosses", lanterns, calc.CutStrip{Border: 2, Edges: calc.Sides, Length: length(t, "63 1/4")}, "6 3/8 in"},
		// 42 + 2(6 1/4 × 3 1/2 + 1/4 × 6.946)/6 = 49.87; at 4 1/8 it is 50.13.
		{"the sides, as top is short", unequal, calc.CutStrip{Border: 1, Edges: calc.TopBottom, Length: length(t, "50")}, "4 in"},
		{"the strip is cut narrower still", lanterns, calc.CutStrip{Border: 2, Edges: calc.Sides, Width: length(t, "5 1/4"), Length: length(t, "63 1/4")}, "5 1/4 in"},
		// 36 1/2 + 2 × 6 1/2 − 0.29 = 49.21 for 5 1/2 all round; 1/4 in less for 5 3/8.
		{"the other strips are longer than this one", lanterns, calc.CutStrip{Border: 2, Edges: calc.TopBottom, Length: length(t, "49")}, "5 3/8 in"},
		// 20 + 2w − 0.29 = 26.25 gives w = 3.27.
		{"cut between the ruler's lines", third, calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, "26 1/4")}, "3 1/4 in"},
	} {
		p := planOf(t, c.plan)
		w, ok := wayOf(calc.CheckStrip(p, calc.NewSheet(p), c.strip, usual).Ways, "narrower")
		if !ok || w.Change.Cut.Exactly() != c.cut {
			t.Errorf("%s: strip of %s: %+v; want a border cut %s", c.name, c.strip.Length.Value(p.Unit), w.Change, c.cut)
		}
		if ok && c.plan == unequal && (w.Acts[0] != "Trim both side strips of gray to 4 in, off the outer edge." || len(w.Change.Edges) != 1) {
			t.Errorf("%s: %q on %v; want the sides alone", c.name, w.Acts, w.Change.Edges)
		}
	}
}

// The ways out say what a stripe or a print asks for, and nothing of it on plain fabric.
func TestWaysOutKeepToTheFabric(t *testing.T) {
	for fabric, c := range map[string]struct{ narrower, joined string }{
		``:                {"off the outer edge.", "Draw from where the edges cross to where they cross again, cutting off the corner where both ends meet."},
		`,"stripe":"1/2"`: {"The inner seam keeps its line of the stripe.", "Lay the piece on the strip's end, line on line of the stripe."},
		`,"motif":"3"`:    {"off the outer edge.", "Slide the piece along the strip's end until the print runs on over the join."},
	} {
		p := planOf(t, `{"center":{"width":"36","length":"36"},"borders":[{"cut":"4"`+fabric+`}],"spare":"2"}`)
		check := calc.CheckStrip(p, calc.NewSheet(p), calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, "43")}, usual)
		narrower, _ := wayOf(check.Ways, "narrower")
		joined, _ := wayOf(check.Ways, "joined")
		if len(narrower.Acts) == 0 || !strings.HasSuffix(narrower.Acts[0], c.narrower) {
			t.Errorf("%q: narrower %q; want it to end with %q", fabric, narrower.Acts, c.narrower)
		}
		if !strings.Contains(strings.Join(joined.Acts, " "), c.joined) {
			t.Errorf("%q: joined %q; want %q", fabric, joined.Acts, c.joined)
		}
	}
}

// A new strip says how it may be cut; why one way does not fit is said only where neither
// does.
func TestANewStripSaysWhyItCannotBeCut(t *testing.T) {
	for _, c := range []struct {
		cut, fabric string
		says, not   string
	}{
		{"4", `{"join":"none"}`, "Cut lengthwise it takes 46 in of fabric", "Cut them lengthwise, or join them"},
		{"41", `{"join":"none","usableWidth":"40"}`, "Cut them lengthwise, or join them", "it takes"},
		{"4", `{"join":"straight","runs":"crosswise"}`, "Cut crosswise it takes 8 in of fabric", "lengthwise"},
	} {
		p := planOf(t, `{"center":{"width":"36","length":"36"},"borders":[{"cut":"`+c.cut+`","fabric":`+c.fabric+`}],"spare":"2"}`)
		check := calc.CheckStrip(p, calc.NewSheet(p), calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, "30")}, usual)
		w, _ := wayOf(check.Ways, "new-strip")
		told := strings.Join(w.Acts, " ")
		if !strings.Contains(told, c.says) || strings.Contains(told, c.not) {
			t.Errorf("cut %s, fabric %s: %q; want %q and nothing of %q", c.cut, c.fabric, told, c.says, c.not)
		}
	}
}

// A join that lies just as far from the miter as it must, in the middle of the strip, is
// made; the dot is 2 in and an allowance from the middle. A center 1/8 in smaller has no
// place for it.
func TestAJoinThatJustFits(t *testing.T) {
	for side, want := range map[string]bool{"5": true, "4 7/8": false} {
		p := planOf(t, `{"center":{"width":"`+side+`","length":"`+side+`"},"borders":[{"cut":"4","fabric":{"join":"straight"}}],"spare":"2"}`)
		s := calc.NewSheet(p)
		half := stripOf(t, s, 1, calc.Sides).CutLength.Length.Half()
		check := calc.CheckStrip(p, s, calc.CutStrip{Border: 1, Edges: calc.Sides, Length: half.Add(length(t, "1/4"))}, usual)
		w, ok := wayOf(check.Ways, "joined")
		if ok != want || ok && figure(t, w, "join from the middle").Shown() != "0 in" {
			t.Errorf("a center of %s: joined %t, %+v; want %t, in the middle", side, ok, w, want)
		}
	}
}

func TestAJoinThatIsFarFromTheMiterNeedsNoCuttingBack(t *testing.T) {
	p := planOf(t, one("36", "36", "4", "2"))
	check := calc.CheckStrip(p, calc.NewSheet(p), calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, "30")}, usual)
	joined, ok := wayOf(check.Ways, "joined")
	// On the diagonal 30 + piece = 46 + 4, so 20; its middle 30 − 2 − 23 = 5 from the
	// strip's (derived; a join on the diagonal loses one cut width: Quilting Board t109880).
	if !ok || figure(t, joined, "piece, long").Shown() != "20 in" || figure(t, joined, "join from the middle").Shown() != "5 in" {
		t.Errorf("36, strip of 30: %+v; want a piece of 20 in, joined 5 in from the middle", joined)
	}
	if strings.Contains(strings.Join(joined.Acts, " "), "Cut the strip back") {
		t.Errorf("36, strip of 30: %q; want nothing cut back", joined.Acts)
	}
	stub := calc.CheckStrip(p, calc.NewSheet(p), calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, "8")}, usual)
	if w, ok := wayOf(stub.Ways, "joined"); ok {
		t.Errorf("36, strip of 8: %+v; want no joined piece, the join would lie in the other miter", w)
	}
}

func TestCheckStripWidth(t *testing.T) {
	p := planOf(t, lanterns)
	s := calc.NewSheet(p)
	for _, c := range []struct {
		name, width string
		border      int
		kind        string
		edges       int // that the others are trimmed on
		finished    string
	}{
		{"as planned", "5 1/2", 2, calc.Right, 0, ""},
		{"too wide is trimmed", "5 5/8", 2, calc.Wide, 0, ""},
		// Ticking differs on top and bottom: only the pair follows. 36 + 2 x (1 + 4 3/4) = 47 1/2.
		{"too narrow, the pair follows", "5 1/4", 2, calc.Narrow, 1, "47 1/2 in"},
		// The dark line is alike all round: all four. 36 + 2 x (7/8 + 5) = 47 3/4.
		{"too narrow, all follow", "1 3/8", 1, calc.Narrow, 2, "47 3/4 in"},
	} {
		got := calc.CheckStrip(p, s, calc.CutStrip{Border: c.border, Edges: calc.Sides, Width: length(t, c.width), Length: length(t, "67 1/2")}, usual)
		way, ok := wayOf(got.Ways, "trim-all")
		if got.Width.Kind != c.kind || ok != (c.edges > 0) {
			t.Errorf("%s: %s = %s, ways %+v; want %s", c.name, c.width, got.Width.Kind, got.Ways, c.kind)
			continue
		}
		if ok && (len(way.Change.Edges) != c.edges || figure(t, way, "finished width of the top").Shown() != c.finished) {
			t.Errorf("%s: %+v; want %d pairs trimmed and a top of %s", c.name, way, c.edges, c.finished)
		}
	}
}

func TestStripsCutBeforeTheCenterWasTrimmed(t *testing.T) {
	p := planOf(t, lanterns)
	smaller, err := p.WithCenter(calc.Size{Width: length(t, "36"), Length: length(t, "48")})
	if err != nil {
		t.Fatal(err)
	}
	// Cut for 48 1/2: 67 1/2. The side now is 48: a tail of 9 3/4.
	got := calc.CheckStrips(smaller, calc.NewSheet(smaller), []calc.CutStrip{
		{Border: 2, Edges: calc.Sides, Length: length(t, "67 1/2")},
		{Border: 2, Edges: calc.TopBottom, Length: length(t, "48 1/2")},
	}, usual)
	// On top 35 1/2 + 2 x (7 1/4 x 6/7 + 1/4 x √85 / 7) = 48.587110 is the least.
	if len(got) != 2 || got[0].Verdict.Kind != calc.Right || got[0].Tail.Shown() != "9 3/4 in" || got[1].Verdict.Kind != calc.Short || got[1].TooShort.Shown() != "1/8 in" {
		t.Errorf("center trimmed by 1/2: %+v; want right with a tail of 9 3/4 in, and short by 1/8 in", got)
	}
}

// What is offered holds: the narrower border is covered by this strip and by all
// others, and one line wider is not; a joined piece makes at least the least length.
func TestWaysOutHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := planOf(t, plans(3).Draw(t, "plan"))
		s := calc.NewSheet(p)
		strip := rapid.SampledFrom(s.Strips).Draw(t, "strip")
		per := rapid.Int64Range(0, 100).Draw(t, "percent")
		c := calc.CutStrip{Border: strip.Border, Edges: strip.Edges, Length: strip.CutLength.Length.Scale(calc.Of(per, 100, calc.Inch), calc.Of(1, 1, calc.Inch))}
		lim := calc.DefaultLimits(p.Unit)
		check := calc.CheckStrip(p, s, c, lim)

		covered := func(change calc.Change) bool {
			for _, x := range calc.NewSheet(change.Apply(p)).Strips {
				has := stripOf(t, s, x.Border, x.Edges).CutLength.Length
				if x.Border == c.Border && x.Edges == c.Edges {
					has = c.Length
				}
				if has.Less(x.LeastLength.Length) {
					return false
				}
			}
			return true
		}
		if w, ok := wayOf(check.Ways, "narrower"); ok {
			b, least := p.Borders[c.Border-1], calc.Length{}
			for _, e := range w.Change.Edges {
				if cut := b.CutOn(e); least.Sign() == 0 || cut.Less(least) {
					least = cut
				}
			}
			if least.Less(w.Change.Cut.Length) || !w.Change.Cut.Length.Round(p.Unit, calc.CutUp).Equal(w.Change.Cut.Length) {
				t.Errorf("a border cut %s is offered; want a ruler's line, and none of its strips narrower now", w.Change.Cut.Value())
			}
			if !covered(*w.Change) {
				t.Errorf("strip of %s: a border cut %s is offered, and a strip falls short", c.Length.Value(p.Unit), w.Change.Cut.Value())
			}
			wider := *w.Change
			wider.Cut.Length = wider.Cut.Length.Add(map[calc.Unit]calc.Length{calc.Inch: calc.Of(1, 8, calc.Inch), calc.Centimeter: calc.Of(1, 10, calc.Centimeter)}[p.Unit])
			if !least.Less(wider.Cut.Length) && covered(wider) {
				t.Errorf("strip of %s: a border cut %s is offered, and %s would do too", c.Length.Value(p.Unit), w.Change.Cut.Value(), wider.Cut.Value())
			}
		}
		if w, ok := wayOf(check.Ways, "joined"); ok {
			loss := p.Seam.Times(2)
			if p.Borders[c.Border-1].Fabric.Join == "diagonal" {
				loss = strip.CutWidth.Length
			}
			cutBack := calc.Length{}
			if strings.Contains(w.Acts[0], "Cut the strip back") {
				cutBack = figure(t, w, "cut the strip back by").Length
			}
			whole := c.Length.Sub(cutBack).Add(figure(t, w, "piece, long").Length).Sub(loss)
			if whole.Less(strip.LeastLength.Length) {
				t.Errorf("strip of %s, joined: %s; want at least %s", c.Length.Value(p.Unit), whole.Value(p.Unit), strip.LeastLength.Value())
			}
			if at, dot := figure(t, w, "join from the middle").Length, s.Marks.On(c.Edges).ToDot.Length; !at.Add(lim.Clear).Less(dot) {
				t.Errorf("strip of %s: the join lies %s from the middle; the dot is at %s", c.Length.Value(p.Unit), at.Value(p.Unit), dot.Value(p.Unit))
			}
		}
	})
}

// (derived) A piece on a print is longer by two repeats: one until the print runs on, one until
// a motif's middle is that of the whole, from which half goes each way.
func TestAJoinedPrintIsTrimmedFromAMotif(t *testing.T) {
	said := func(first bool) string {
		p := planOf(t, `{"center":{"width":"36","length":"36"},"borders":[{"cut":"4","motif":"3","fabric":{"join":"straight"}}],"spare":"2"}`)
		check := calc.CheckStrip(p, calc.NewSheet(p), calc.CutStrip{Border: 1, Edges: calc.Sides, Length: length(t, "43"), First: first}, usual)
		joined, _ := wayOf(check.Ways, "joined")
		return figure(t, joined, "piece, long").Shown() + ": " + strings.Join(joined.Acts, " ")
	}
	// 7 3/4 without a print; the whole is 46.
	if got := said(false); !strings.HasPrefix(got, "13 3/4 in:") || !strings.Contains(got, "Mark the middle of a motif, 23 in or a little more from the strip's own end. Mark 23 in each way from there. Trim the whole to 46 in, at both marks.") {
		t.Errorf("joined on a print: %q; want 13 3/4 in, its middle on a motif, and 23 in each way", got)
	}
	if got := said(true); !strings.HasPrefix(got, "10 3/4 in:") {
		t.Errorf("joined by the first edition: %q; want 10 3/4 in as then", got)
	}
}
