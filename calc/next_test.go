package calc_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc"
)

func nextOf(t rapid.TB, width, long string, f calc.Finishing) calc.Next {
	t.Helper()
	a, err := calc.NewNext(calc.Size{Width: length(t, width), Length: length(t, long)}, calc.Inch, f)
	if err != nil {
		t.Fatalf("NewNext(%s x %s) = %v", width, long, err)
	}
	return a
}

func TestBindingAgreesWithPrint(t *testing.T) {
	usual := calc.DefaultFinishing(calc.Inch)
	twelve := usual
	twelve.Joins = length(t, "12")
	narrow := usual
	narrow.Usable = length(t, "5")
	for _, c := range []struct {
		source, width, length string
		finishing             calc.Finishing
		perimeter, needed     string
		strips                int
		fabric, buy           string
	}{
		// In print the joins' share is in the 10 in, and a strip less does: 6, 5, 5 and 11.
		// Here each of n joins takes a strip's width beside it: 230 / 37 1/2 is over 6.
		{"Castilleja Cotton, 2 June 2013, one strip more than the 6 in print", "50", "60", usual, "220 in", "230 in", 7, "17 1/2 in", "5/8 yd"},
		{"Sylvia's Quilt Depot, one more than the 5 in print", "46", "46", usual, "184 in", "194 in", 6, "15 in", "1/2 yd"},
		{"Always in Stitches, 3 August 2009, one more than the 5 in print", "40", "50", usual, "180 in", "190 in", 6, "15 in", "1/2 yd"},
		{"Quilting Board t189575, one more than the 11 in print, which is short", "96", "110", twelve, "412 in", "424 in", 12, "30 in", "1 yd"},
		// 8 x 40 − 8 x 2 1/2 = 300 are short of 310; 9 x 2 1/2 + 2 to square the ends are over 5/8 yd.
		{"70 x 80: nine strips, and not from 5/8 yd (derived)", "70", "80", usual, "300 in", "310 in", 9, "22 1/2 in", "3/4 yd"},
		// Strips of 2 1/2 from fabric 5 wide lose half of it to each join: 50 takes 20.
		{"narrow fabric (derived)", "10", "10", narrow, "40 in", "50 in", 20, "50 in", "1 1/2 yd"},
	} {
		b := nextOf(t, c.width, c.length, c.finishing).Binding
		if b.Perimeter.Shown() != c.perimeter || b.Needed.Shown() != c.needed || b.Strips != c.strips || b.Fabric.Shown() != c.fabric || b.Buy.Shown() != c.buy {
			t.Errorf("%s: %s x %s: %s round, %s needed, %d strips, %s, buy %s; want %s, %s, %d, %s, %s",
				c.source, c.width, c.length, b.Perimeter.Shown(), b.Needed.Shown(), b.Strips, b.Fabric.Shown(), b.Buy.Shown(), c.perimeter, c.needed, c.strips, c.fabric, c.buy)
		}
	}
}

func TestBackingAndBatting(t *testing.T) {
	for _, c := range []struct {
		name, width, length, size string
		pieces                    int
		each, run, buy            string
	}{
		// 48 wide: two lengths of 68 down, or two of 48 across (68 < 79): 96 + 2 = 98 in.
		{"Happy Stitches, Backing and borders: 40 x 60 → 48 x 68; the rest derived", "40", "60", "48 in x 68 in", 2, "48 in", "across", "2 3/4 yd"},
		{"one width is enough (derived)", "30", "50", "38 in x 58 in", 1, "58 in", "down", "1 3/4 yd"},
		// Two widths of 40 cover 79; 80 takes three: 3 x 80 down and across alike.
		{"a seam takes an inch: 80 is more than two of 40 (derived)", "72", "72", "80 in x 80 in", 3, "80 in", "down", "6 3/4 yd"},
		{"and 79 is not (derived)", "71", "71", "79 in x 79 in", 2, "79 in", "down", "4 1/2 yd"},
	} {
		a := nextOf(t, c.width, c.length, calc.DefaultFinishing(calc.Inch))
		b := a.Backing
		size := b.Width.Shown() + " x " + b.Length.Shown()
		if size != c.size || b.Pieces != c.pieces || b.Seams != c.pieces-1 || b.Each.Shown() != c.each || b.Run != c.run || b.Buy.Shown() != c.buy {
			t.Errorf("%s: %s x %s: backing %s, %d of %s, seams %s, buy %s; want %s, %d of %s, %s, %s",
				c.name, c.width, c.length, size, b.Pieces, b.Each.Shown(), b.Run, b.Buy.Shown(), c.size, c.pieces, c.each, c.run, c.buy)
		}
		if !a.Batting.Width.Length.Equal(b.Width.Length) || !a.Batting.Length.Length.Equal(b.Length.Length) {
			t.Errorf("%s: batting %s x %s; want it as large as the backing", c.name, a.Batting.Width.Shown(), a.Batting.Length.Shown())
		}
	}
}

func TestFabricTooNarrowToJoinIsRefused(t *testing.T) {
	f := calc.DefaultFinishing(calc.Inch)
	f.Usable = length(t, "2 1/2")
	if _, err := calc.NewNext(calc.Size{Width: length(t, "40"), Length: length(t, "40")}, calc.Inch, f); err == nil {
		t.Error("fabric as narrow as its binding strip passes; want a sentence")
	}
}

// Where three lengths or more of the usual fabric would be joined, wide fabric is told too:
// 108 in between its edges (cp), of which 104 are reckoned with. (derived)
func TestWideBackingWhereManyLengthsWouldBeJoined(t *testing.T) {
	for _, c := range []struct {
		width, length string
		wide          string
	}{
		{"71", "71", ""},
		// 80 x 80: one length of 80, and 2: 82 in are 2 3/8 yd, 85 1/2 in.
		{"72", "72", "1 of 80 in, buy 2 3/8 yd"},
		// King: 108 x 118 takes two widths of 104: 2 x 108 + 2 = 218 in, 6 1/8 yd.
		{"100", "110", "2 of 108 in, buy 6 1/8 yd"},
	} {
		got := ""
		if w := nextOf(t, c.width, c.length, calc.DefaultFinishing(calc.Inch)).Backing.Wide; w != nil {
			got = fmt.Sprintf("%d of %s, buy %s", w.Pieces, w.Each.Shown(), w.Buy.Shown())
		}
		if got != c.wide {
			t.Errorf("%s x %s: wide %q; want %q", c.width, c.length, got, c.wide)
		}
	}
}

// Whatever the top, the pieces cover the backing with their seams, the strips of the
// binding go round, and one of either less would not do.
func TestAfterIsEnoughAndNotMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := writtenLength(4, 120)
		f := calc.DefaultFinishing(calc.Inch)
		a := nextOf(t, side.Draw(t, "width"), side.Draw(t, "length"), f)
		b := a.Backing
		cover := b.Width.Length
		if b.Each.Length.Equal(cover) && !b.Each.Length.Equal(b.Length.Length) {
			cover = b.Length.Length
		}
		wide := func(n int64) calc.Length { return f.Usable.Times(n).Sub(f.Seam.Times(2 * (n - 1))) }
		n := int64(b.Pieces)
		if wide(n).Less(cover) || n > 1 && !wide(n-1).Less(cover) {
			t.Errorf("%d widths of the fabric for %s", n, cover.Value(calc.Inch))
		}
		round := func(n int64) bool {
			return !f.Usable.Times(n).Sub(f.Strip.Times(n)).Less(a.Binding.Needed.Length)
		}
		if k := int64(a.Binding.Strips); !round(k) || round(k-1) {
			t.Errorf("%d strips of binding for %s", k, a.Binding.Needed.Shown())
		}
	})
}
