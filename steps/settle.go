package steps

import (
	"errors"
	"fmt"
	"strings"

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
// plan's. made are the strips that are cut already, mends the ways out that were taken.
// The error is a *Refusal that tells which measure can't be, and why.
func newQuilt(plan calc.Plan, measured map[string]string, made map[string]bool, mends []*mend) (*quilt, error) {
	q := &quilt{settled: pairOfSizes{planned: plan.Pieced}, made: made, mends: mends}
	width, wHow, err := settle(plan, plan.Pieced.Width, settledBy[0].size, settledBy[0].three, measured)
	if err != nil {
		return nil, asRefusal(err)
	}
	length, lHow, err := settle(plan, plan.Pieced.Length, settledBy[1].size, settledBy[1].three, measured)
	if err != nil {
		return nil, asRefusal(err)
	}
	q.settled.width, q.settled.length = wHow, lHow
	q.plan, err = plan.WithCenter(calc.Size{Width: width, Length: length})
	if err == nil {
		q.plan, err = coped(q.plan, measured)
	}
	if err != nil {
		return nil, asRefusal(err)
	}
	q.sheet = calc.NewSheet(q.plan)
	q.first = calc.Edges(measured["first-pair"])
	if _, ok := pairs[q.first]; !ok { // by habit the longer two
		q.first = calc.Sides
		if q.plan.Center.Length.Less(q.plan.Center.Width) {
			q.first = calc.TopBottom
		}
	}
	return q, nil
}

func settle(plan calc.Plan, planned calc.Length, size string, three [3]string, measured map[string]string) (calc.Length, string, error) {
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
	shown := make([]string, 3)
	for i, l := range all {
		shown[i] = calc.Figure{Length: l, Unit: plan.Unit}.Bare()
	}
	how := "the least of %s, as they differ by more than can be eased"
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
