package steps

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"cornerwise/calc"
)

// pairOfSizes is the center as planned, and where the size that is built on came
// from, for each direction.
type pairOfSizes struct {
	planned       calc.Size
	width, length string
}

func (p pairOfSizes) how() string {
	if p.width == p.length {
		return "Width and length " + p.width + "."
	}
	return "Width " + p.width + "; length " + p.length + "."
}

// The measures that settle each direction of the center.
var settledBy = [2]struct {
	size  string
	three [3]string
}{
	{"size-width", [3]string{"width-top", "width-middle", "width-bottom"}},
	{"size-length", [3]string{"length-left", "length-middle", "length-right"}},
}

// newQuilt takes the plan and what was measured to the size that is built on: the
// size entered as settled, else what three measures give (calc.Limits.Settle), else the
// plan's. The error is a *Refusal that tells which measure can't be, and why.
func newQuilt(from given) (*quilt, error) {
	q := &quilt{given: from}
	size, settled, err := settleBoth(from.plan, from.measured, from.trimmed)
	if err != nil {
		return nil, asRefusal(err)
	}
	q.settled = settled
	q.plan, err = from.plan.WithCenter(size)
	if err == nil {
		q.plan, err = coped(q.plan, from.measured)
	}
	if err != nil {
		return nil, asRefusal(err)
	}
	q.sheet = calc.NewSheet(q.plan)
	q.early = sync.OnceValue(func() map[int][]calc.Piece { return calc.EarlyParts(q.plan, q.sheet) })
	q.first = calc.Edges(from.measured["first-pair"])
	if _, ok := pairs[q.first]; !ok { // by habit the longer two
		q.first = calc.Sides
		if q.plan.Center.Length.Less(q.plan.Center.Width) {
			q.first = calc.TopBottom
		}
	}
	q.basis = &basis{from.source, bare(from.plan), q.sheet.Pieced, q.sheet.Center, settled, q.first}
	return q, nil
}

// settleBoth is the size that is built on, and where it came from.
func settleBoth(plan calc.Plan, measured map[string]string, trimmed bool) (size calc.Size, from pairOfSizes, err error) {
	from.planned = plan.Pieced
	if size.Width, from.width, err = settle(plan, plan.Pieced.Width, settledBy[0].size, settledBy[0].three, measured, trimmed); err != nil {
		return size, from, err
	}
	size.Length, from.length, err = settle(plan, plan.Pieced.Length, settledBy[1].size, settledBy[1].three, measured, trimmed)
	return size, from, err
}

func settle(plan calc.Plan, planned calc.Length, size string, three [3]string, measured map[string]string, trimmed bool) (calc.Length, string, error) {
	if v := measured[size]; v != "" {
		l, err := calc.ParseLength(v, plan.Unit)
		return l, "as you entered it", err
	}
	var all [3]calc.Length
	for i, id := range three {
		v := measured[id]
		if v == "" {
			return planned, "as planned", nil
		}
		l, err := calc.ParseLength(v, plan.Unit)
		if err != nil {
			return calc.Length{}, "", err
		}
		all[i] = l
	}
	s := plan.Limits.Settle(all)
	if trimmed {
		s = plan.Limits.SettleTrimmed(all)
	}
	shown := make([]string, 3)
	for i, l := range all {
		shown[i] = calc.Figure{Length: l, Unit: plan.Unit}.Bare()
	}
	how := "the mean of %s until the seam that is off is found"
	if trimmed {
		how = "the least of %s, as they differ by more than can be eased"
	}
	switch {
	case s.Spread.Sign() == 0:
		how = "as measured three times: %s"
	case s.Ease:
		how = "the mean of %s"
	}
	return s.Length, fmt.Sprintf(how, strings.Join(shown, ", ")), nil
}

// asRefusal tells why a center or a measure can't be.
func asRefusal(err error) *Refusal {
	var faults calc.Faults
	if errors.As(err, &faults) {
		return &Refusal{Code: BadValue, Field: "value", Message: "The center " + faults[0].Message + "."}
	}
	return &Refusal{Code: BadValue, Field: "value", Message: "The measure " + err.Error() + "."}
}

// settling are the ticks after which fabric is cut to the size as it was settled.
var settling = []string{"center.trimmed", "size.settled"}

// trimmedToLeast tells whether the size was settled by the rule of the first edition: what
// more than 1/8 in apart was is trimmed to the least. A center that is cut so stays so.
func (w *Work) trimmedToLeast() bool {
	return slices.ContainsFunc(settling, func(id string) bool {
		_, t := w.Tick(id)
		return t != nil && t.Done && t.under == 1
	})
}

// resettled is the Work with the size settled by the rule that holds for it, where another
// size comes of it.
func (w *Work) resettled(trimmed bool) *Work {
	measured := w.measured()
	size, from, err := settleBoth(w.Plan, measured, trimmed)
	if err != nil || from == w.built.settled && size.Width.Equal(w.built.plan.Pieced.Width) && size.Length.Equal(w.built.plan.Pieced.Length) {
		return w
	}
	anew := w.given()
	anew.trimmed = trimmed
	q, err := newQuilt(anew)
	if err != nil {
		return w // it stands as it is
	}
	next, _ := w.onto(w.anew(q), always)
	next.Gone = w.Gone
	return next
}
