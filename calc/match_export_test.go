package calc

// MatchOf is the match of a border with a motif, 1 being the innermost, with its
// notes and the centerings that are equally good.
func MatchOf(p Plan, border int) (Match, []string, []Pair[Centering]) {
	m := newMatch(p, Pair[Band]{newBand(p, Sides), newBand(p, TopBottom)}, border-1)
	return m, m.notes(p), m.best()
}
