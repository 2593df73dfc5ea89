package web

import (
	"context"
	"fmt"
	"strings"

	"cornerwise/calc"
)

// newAtHand tells whether a piece of fabric at hand does for a border, from 1, and for
// those of the same fabric. Nothing is said until both measures are there. Nobody asks any more
// once ctx has ended.
func newAtHand(ctx context.Context, plan calc.Plan, border int, width, length string) atHandView {
	h := atHandView{Width: width, Length: length}
	if strings.TrimSpace(width) == "" || strings.TrimSpace(length) == "" {
		return h
	}
	var size [2]calc.Length
	for k, x := range []struct{ name, written string }{{"usable width", width}, {"length", length}} {
		l, err := calc.ParseLength(x.written, plan.Unit)
		switch {
		case err != nil:
			h.Fault = sentenceOf(err.Error())
		case l.Sign() <= 0 || calc.Of(10000, 1, calc.Inch).Less(l):
			h.Fault = fmt.Sprintf("This must be more than 0, and no more than %s.", calc.Figure{Length: calc.Of(10000, 1, calc.Inch), Unit: plan.Unit}.Shown())
		}
		if h.Fault != "" {
			h.Fault = strings.Replace(h.Fault, "This", "The "+x.name, 1)
			return h
		}
		size[k] = l
	}
	h.Says = atHandWords(plan, calc.Enough(plan, border, size[0], size[1], func() bool { return ctx.Err() == nil }), border)
	return h
}

func atHandWords(plan calc.Plan, a calc.AtHand, border int) string {
	whose := "For this border"
	if len(a.Borders) > 1 {
		whose = fmt.Sprintf("For all %d borders of %s", len(a.Borders), plan.Borders[border-1].Fabric.Name)
	}
	allows := "It allows no width of it."
	if a.Widest.Length.Sign() > 0 {
		allows = fmt.Sprintf("The widest cut that it allows is %s.", a.Widest.Shown())
		if !plan.Borders[border-1].Cut.Equal(plan.Borders[border-1].CutTopBottom) {
			allows = fmt.Sprintf("The widest cut on the sides that it allows is %s, and as much wider or narrower on top and bottom as now.", a.Widest.Shown())
		}
	}
	runs := calc.Ways{Pick: a.Pick}.Words()
	switch {
	case a.Enough:
		return fmt.Sprintf("%s it is enough, %s. %s", whose, runs, allows)
	case a.Pick == "":
		return fmt.Sprintf("%s it is too narrow, however long it were. %s", whose, allows)
	}
	return fmt.Sprintf("%s it is %s too short, %s. %s", whose, a.ShortBy.Shown(), runs, allows)
}
