package web

import (
	"fmt"

	"cornerwise/calc"
)

// A nextView is what is bought for when the borders are on.
type nextView struct{ Name, Buy, Other, For string }

func (n nextView) line() string {
	if n.Other == "" {
		return n.Buy + "; " + n.For
	}
	return fmt.Sprintf("%s (%s); %s", n.Buy, n.Other, n.For)
}

// nexts are backing, wide backing where that is a choice, batting and binding.
func nexts(n calc.Next) []nextView {
	backing := func(name string, w calc.Widths) nextView {
		v := nextView{Name: name, Buy: w.Buy.Shown(), Other: w.Buy.Other(), For: fmt.Sprintf("usable width %s or more, in one", w.Usable.Shown())}
		if w.Pieces > 1 {
			v.For = fmt.Sprintf("usable width %s or more, %d lengths of %s, seams %s", w.Usable.Shown(), w.Pieces, w.Each.Shown(), w.Run)
		}
		return v
	}
	all := []nextView{backing("backing", n.Backing.Widths)}
	if n.Backing.Wide != nil {
		all = append(all, backing("or wide backing", *n.Backing.Wide))
	}
	b := n.Binding
	return append(all,
		nextView{Name: "batting", Buy: n.Batting.Width.Shown() + " × " + n.Batting.Length.Shown(), For: "as large as the backing"},
		nextView{Name: "binding", Buy: b.Buy.Shown(), Other: b.Buy.Other(), For: fmt.Sprintf("%d strips, cut %s", b.Strips, b.Cut.Exactly())})
}
