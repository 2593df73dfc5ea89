package steps

import (
	"fmt"

	"cornerwise/calc"
)

// An expectation gives a measure what the plan says of it.
type expectation func(*quilt, names, *Measure)

var expects = map[string]expectation{
	"width":  about(func(q *quilt, _ names) calc.Length { return q.settled.planned.Width }),
	"length": about(func(q *quilt, _ names) calc.Length { return q.settled.planned.Length }),
	"diagonal": about(func(q *quilt, _ names) calc.Length {
		return calc.Hypot(q.settled.planned.Width, q.settled.planned.Length)
	}),
	"coped": about(func(q *quilt, n names) calc.Length {
		side := q.plan.Pieced.Width
		if q.plan.Coping.Edges == calc.TopBottom {
			side = q.plan.Pieced.Length
		}
		return side.Add(q.sheet.Coping.Total.Length)
	}),
	"cutWidth":  about(func(q *quilt, n names) calc.Length { return q.stripOf(n.number("border"), n.edges()).CutWidth.Length }),
	"cutLength": about(func(q *quilt, n names) calc.Length { return q.stripOf(n.number("border"), n.edges()).CutLength.Length }),
	"bandWidth": about(func(q *quilt, n names) calc.Length { return q.sheet.Bands.On(n.edges()).Cut.Length }),
	"across":    about(func(q *quilt, _ names) calc.Length { return calc.NewSeamTest(q.plan).Across.Length }),
	"edge":      about(func(q *quilt, n names) calc.Length { return q.sheet.Center.Along(n.edges()).Length }),
	"miss":      func(q *quilt, _ names, m *Measure) { m.Most = q.mostMiss() },
	"topWidth":  about(func(q *quilt, _ names) calc.Length { return q.sheet.Raw.Width.Length }),
	"topLength": about(func(q *quilt, _ names) calc.Length { return q.sheet.Raw.Length.Length }),
	"topDiagonal": about(func(q *quilt, _ names) calc.Length {
		return calc.Hypot(q.sheet.Raw.Width.Length, q.sheet.Raw.Length.Length)
	}),
}

// about expects a length, give or take what fabric does (calc.Limits.Plausible).
func about(of func(*quilt, names) calc.Length) expectation {
	return func(q *quilt, n names, m *Measure) {
		planned := of(q, n)
		least, most := q.plan.Limits.Plausible(planned)
		expect, from, to := q.nearest(planned), q.nearest(least), q.nearest(most)
		m.Expect, m.Least, m.Most = &expect, &from, &to
	}
}

// mostMiss is half the widest repeat: lines that miss by more are nearer to the next
// one. nil where no border has lines or prints to miss.
func (q *quilt) mostMiss() *calc.Figure {
	var widest calc.Length
	for _, b := range q.plan.Borders {
		for _, l := range []calc.Length{b.Stripe, b.Motif} {
			if widest.Less(l) {
				widest = l
			}
		}
	}
	if widest.Sign() == 0 {
		return nil
	}
	half := q.nearest(widest.Half())
	return &half
}

// enter keeps a value that fits, and asks where it is hard to believe.
func (m *Measure) enter(value string, lim calc.Limits) {
	m.Value, m.Doubt = value, ""
	if value == "" || m.Options != nil {
		return
	}
	l, err := calc.ParseLength(value, lim.Unit)
	switch {
	case err != nil:
	case m.Expect != nil:
		m.Doubt, _ = lim.Doubt(m.Expect.Length, l)
	case m.Most != nil && m.Most.Length.Less(l):
		m.Doubt = fmt.Sprintf("%s is more than half a repeat, %s: then the next line is nearer. Is that so?",
			calc.Figure{Length: l, Unit: lim.Unit}.Exactly(), m.Most.Shown())
	}
}
