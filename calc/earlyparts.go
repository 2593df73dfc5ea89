package calc

import (
	"slices"

	"cornerwise/calc/pack"
)

// EarlyParts are the pieces of crosswise joined strips as they were laid before joins had
// their place, by border from 1: on rows put end to end, with a join wherever a row ended.
// Strips that were cut so are joined so. Borders whose strips needed no joins are left out.
func EarlyParts(p Plan, s Sheet) map[int][]Piece {
	all := map[int][]Piece{}
	for i, b := range p.Borders {
		if all[i+1] != nil || b.Fabric.Join == "none" || b.Fabric.Heads == Up {
			continue
		}
		borders := sharing(p, i)
		for k := range borders {
			borders[k]--
		}
		bolt := newBolt(p, s.Strips, unsettled(s.Match), borders)
		var longest int64
		for _, x := range bolt.strips {
			longest = max(longest, x.length)
		}
		if bolt.join == "none" || bolt.motif+longest <= bolt.room {
			continue
		}
		bolt.work = earlyWork
		list, whole := bolt.centerings()
		way := bolt.over(list, whole, func(t pack.Task) (*pack.Layout, bool) { return t.Tapes(bolt.room, bolt.loss) }, false)
		for _, k := range borders {
			all[k+1] = way.Layout
		}
	}
	return all
}

// unsettled are matches of which all centerings that match equally well were tried.
func unsettled(matches []Match) []Match {
	all := slices.Clone(matches)
	for i := range all {
		all[i].settled = false
	}
	return all
}

// earlyWork is how much was tried then, at most. With another the parts would be others.
const earlyWork = 2000
