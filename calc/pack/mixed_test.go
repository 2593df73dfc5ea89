package pack_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"cornerwise/calc/pack"
)

// A frame of four strips lies as it will be sewn: each begins where the one before ends.
func TestStripsBothWays(t *testing.T) {
	along, across := pack.Strip{Width: 4, Length: 60}, pack.Strip{Width: 4, Length: 36}
	for _, c := range []struct {
		name          string
		along, across pack.Strip
		width, length int64
		joins         bool
	}{
		{"both rows beside both columns", along, pack.Strip{Width: 4, Length: 32}, 40, 60, false},
		{"a row beside one column only: 60 + 4", along, across, 40, 64, false},
		{"no row beside a column: 60 + 2 x 4", along, pack.Strip{Width: 4, Length: 38}, 40, 68, false},
		{"columns below each other, rows beside them", pack.Strip{Width: 24, Length: 20}, pack.Strip{Width: 4, Length: 16}, 40, 40, false},
		// 4 rows of 32 beside both columns: 2 x 52 and 2 x 4 for the joins are 112.
		{"joined beside the columns", along, pack.Strip{Width: 4, Length: 52}, 40, 60, true},
		// 15 rows of 12 beside 60 hold 7 parts each: 2 x 52 and 12 x 4 for the joins.
		{"joined of many beside the columns", pack.Strip{Width: 14, Length: 60}, pack.Strip{Width: 4, Length: 52}, 40, 60, true},
	} {
		m := pack.Mixed{Along: []pack.Strip{c.along, c.along}, Across: []pack.Strip{c.across, c.across}, Joins: c.joins, Work: 20000}
		got, proved := m.Lay(c.width, func(int64) int64 { return 4 })
		if got == nil || got.Length != c.length || !proved {
			t.Errorf("%s: %+v, proved %t; want %d, proved", c.name, got, proved, c.length)
		}
	}
}

// No four rectangles on whole places take less, whatever lies where.
func TestStripsBothWaysAreTheLeastOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int64) int64 { return rapid.Int64Range(lo, hi).Draw(t, what) }
		width := num("width", 4, 24)
		along := pack.Strip{Width: num("column", 1, min(width, 12)), Length: 2 * num("long", 1, 20)}
		across := pack.Strip{Width: num("row", 1, 10), Length: 2 * num("across", 1, width/2)}
		m := pack.Mixed{Along: []pack.Strip{along, along}, Across: []pack.Strip{across, across}, Work: 20000}
		got, proved := m.Lay(width, func(int64) int64 { return 1 })
		if !proved {
			if along.Length >= 2*across.Width && across.Length >= along.Width {
				t.Fatalf("%v, %v on %d: %d is not proved", along, across, width, got.Length)
			}
			return // strips wider than long may lie in other ways
		}
		pieces := []piece{{along.Width, along.Length}, {along.Width, along.Length}, {across.Length, across.Width}, {across.Length, across.Width}}
		if goes(pieces, nil, width, got.Length-1) {
			t.Fatalf("%v, %v on %d: %d; but %d would do", along, across, width, got.Length, got.Length-1)
		}
	})
}

type piece struct{ wide, high int64 }
type put struct{ x, y, wide, high int64 }

// goes tells whether the pieces go into a box: pushed left and toward the start, each begins
// where another ends.
func goes(left []piece, laid []put, wide, high int64) bool {
	if len(left) == 0 {
		return true
	}
	area := wide * high
	for _, l := range laid {
		area -= l.wide * l.high
	}
	for _, p := range left {
		area -= p.wide * p.high
	}
	if area < 0 {
		return false
	}
	for i, p := range left {
		if slices.Contains(left[:i], p) {
			continue
		}
		rest := append(append([]piece(nil), left[:i]...), left[i+1:]...)
		xs, ys := []int64{0}, []int64{0}
		for _, l := range laid {
			xs, ys = append(xs, l.x+l.wide), append(ys, l.y+l.high)
		}
		for _, x := range xs {
			for _, y := range ys {
				if x+p.wide > wide || y+p.high > high || over(laid, put{x, y, p.wide, p.high}) {
					continue
				}
				if goes(rest, append(laid[:len(laid):len(laid)], put{x, y, p.wide, p.high}), wide, high) {
					return true
				}
			}
		}
	}
	return false
}

func over(laid []put, p put) bool {
	for _, l := range laid {
		if p.x < l.x+l.wide && l.x < p.x+p.wide && p.y < l.y+l.high && l.y < p.y+p.high {
			return true
		}
	}
	return false
}

// Nor do strips that are joined of two parts, or one of each, however long the parts are.
func TestJoinedStripsBothWaysAreTheLeastOfAll(t *testing.T) {
	proofs := 0
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int64) int64 { return rapid.Int64Range(lo, hi).Draw(t, what) }
		width := num("width", 5, 7)
		along := pack.Strip{Width: num("column", 1, 3), Length: 2 * num("long", 2, 4)}
		across := pack.Strip{Width: num("row", 1, 3), Length: 2 * num("across", 2, 4), Tail: num("tail", 0, 2)}
		const loss = 1
		m := pack.Mixed{Along: []pack.Strip{along, along}, Across: []pack.Strip{across, across}, Joins: true, Work: 20000}
		got, proved := m.Lay(width, func(int64) int64 { return loss })
		if got == nil || !proved {
			return
		}
		proofs++
		for first := int64(0); first <= across.Length; first++ {
			for second := first; second <= across.Length; second++ {
				pieces := []piece{{along.Width, along.Length}, {along.Width, along.Length}}
				for _, n := range []int64{first, second} {
					if n == 0 {
						pieces = append(pieces, piece{across.Length, across.Width})
						continue
					}
					rest := across.Length + loss - n
					if n < across.Tail+loss || rest < across.Tail+loss {
						pieces = nil
						break
					}
					pieces = append(pieces, piece{n, across.Width}, piece{rest, across.Width})
				}
				if pieces != nil && goes(pieces, nil, width, got.Length-1) {
					t.Fatalf("%v, %v on %d: %d; but %d would do, in %v", along, across, width, got.Length, got.Length-1, pieces)
				}
			}
		}
	})
	if proofs == 0 {
		t.Error("no layout was proved the shortest")
	}
}

// With a print the columns lie on it, and the rows start on it, wherever it begins.
func TestStripsBothWaysLieOnOnePrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(what string, lo, hi int64) int64 { return rapid.Int64Range(lo, hi).Draw(t, what) }
		m := pack.Mixed{Motif: 2 * num("motif", 0, 8), Joins: rapid.Bool().Draw(t, "joins"), Work: 2000}
		var widest, longest int64
		for range num("borders", 1, 3) {
			along := pack.Strip{Width: num("column", 1, 10), Length: 2 * num("long", 10, 60), Tail: 8}
			across := pack.Strip{Width: num("row", 1, 10), Length: 2 * num("across", 10, 60), Tail: 8}
			m.Along, m.Across = append(m.Along, along, along), append(m.Across, across, across)
			widest, longest = max(widest, along.Width), max(longest, across.Length)
		}
		width := num("width", max(widest, 30), 160)
		loss := func(w int64) int64 { return w }
		got, _ := m.Lay(width, loss)
		if got == nil {
			if longest+m.Motif <= width {
				t.Fatalf("%+v on %d: no layout", m, width)
			}
			return
		}
		var laid []put
		lay := func(p put) {
			if p.x < 0 || p.y < 0 || p.x+p.wide > width || p.y+p.high > got.Length || over(laid, p) {
				t.Fatalf("%+v on %d x %d: %+v lies outside, or over another of %+v", m, width, got.Length, p, laid)
			}
			laid = append(laid, p)
		}
		phase := func(of string, n, first int64) {
			if m.Motif > 0 && (n-first)%m.Motif != 0 {
				t.Fatalf("%+v on %d: %s lies at %d, the first at %d", m, width, of, n, first)
			}
		}
		if len(got.Along) != len(m.Along) {
			t.Fatalf("%+v: %d along", m, len(got.Along))
		}
		for _, x := range got.Along {
			lay(put{x.Lane, x.Along, x.Width, x.Length})
			phase("a middle", x.Along+x.Length/2, got.Along[0].Along+got.Along[0].Length/2)
		}
		total, parts := make([]int64, len(m.Across)), make([]int64, len(m.Across))
		for _, x := range got.Across {
			// A row may have to start up to a motif sooner.
			if x.Lane < m.Motif {
				t.Fatalf("%+v: a row at %d", m, x.Lane)
			}
			lay(put{x.Along, x.Lane, x.Length, x.Width})
			if sooner := (put{x.Along, x.Lane - m.Motif, x.Length, x.Width + m.Motif}); over(laid[:len(m.Along)], sooner) {
				t.Fatalf("%+v on %d: a row that starts a motif sooner than %+v lies over a column of %+v", m, width, x, laid)
			}
			phase("a row", x.Lane, 0)
			total[x.Strip], parts[x.Strip] = total[x.Strip]+x.Length, parts[x.Strip]+1
		}
		for i, s := range m.Across {
			if parts[i] == 0 || total[i] != s.Length+(parts[i]-1)*s.Width {
				t.Fatalf("%+v: %d parts of strip %d make %d", m, parts[i], i, total[i])
			}
		}
	})
}
