package web

import (
	"fmt"
	"strings"

	"cornerwise/calc"
)

// joinedWords tell that strips are joined, and what would spare the joins.
func joinedWords(j calc.InJoins) string {
	var ways []string
	if j.Whole != nil {
		ways = append(ways, "set joins to none and buy "+j.Whole.Exactly())
	}
	if j.Lengthwise != nil {
		ways = append(ways, fmt.Sprintf("cut lengthwise and buy %s, %s", j.Lengthwise.Exactly(), moreWords(j.More)))
	}
	if j.Smaller {
		var less []string
		if j.Narrower.Length.Sign() > 0 {
			less = append(less, j.Narrower.Exactly()+" narrower")
		}
		if j.Shorter.Length.Sign() > 0 {
			less = append(less, j.Shorter.Exactly()+" shorter")
		}
		ways = append(ways, "make the center "+strings.Join(less, " and "))
	}
	said := fmt.Sprintf("Strips are joined: one width of fabric gives %s, the longest strip takes %s.", j.Across.Exactly(), j.Longest.Exactly())
	if j.Whole != nil {
		said = "Strips are joined to save fabric."
	}
	if len(ways) == 0 {
		return said
	}
	return said + " For strips in one, " + strings.Join(ways, "; or ") + "."
}

func moreWords(more calc.Figure) string {
	switch more.Length.Sign() {
	case 0:
		return "no more than now"
	case -1:
		more.Length = calc.Length{}.Sub(more.Length)
		return more.Exactly() + " less"
	}
	return more.Exactly() + " more"
}
