package calc

import (
	"fmt"
	"math/big"
)

// Doubt asks about a measure that is far from what was planned: not a refusal, as
// fabric is what it is. It knows the usual slips: centimeters read as inches, two digits
// changed over, a tape begun at its second line, a foot or ten centimeters lost. Up to
// Mend off nothing is asked.
func (lim Limits) Doubt(planned, measured Length) (question string, doubtful bool) {
	u := lim.Unit
	off := measured.Sub(planned)
	if planned.Sign() <= 0 || !lim.Mend.Less(off.abs()) {
		return "", false
	}
	want, got := u.nearest(planned).Shown(), u.nearest(measured).Exactly()
	near := func(l Length) bool { return !lim.Mend.Less(l.Sub(planned).abs()) }
	inch, cm := Of(1, 1, Inch), Of(1, 1, Centimeter)
	// What a slip explains it explains to a ruler's coarse line.
	exact := func(apart Length) bool { return !lim.Apart.Less(off.abs().Sub(apart).abs()) }

	switch {
	case near(measured.Scale(cm, inch)) && u == Inch:
		return fmt.Sprintf("%s, where the plan has %s. Are those centimeters?", got, want), true
	case near(measured.Scale(inch, cm)) && u == Centimeter:
		return fmt.Sprintf("%s, where the plan has %s. Are those inches?", got, want), true
	}
	for _, l := range swaps(measured, u) {
		if near(l) {
			return fmt.Sprintf("%s, where the plan has %s. Are two digits changed over: %s?", got, want, u.nearest(l).Exactly()), true
		}
	}
	direction := "more"
	if off.Sign() < 0 {
		direction = "less"
	}
	foot, words := Of(12, 1, Inch), "a foot"
	if u == Centimeter {
		foot, words = Of(10, 1, Centimeter), "10 cm"
	}
	switch {
	case exact(foot):
		return fmt.Sprintf("%s is %s %s than the plan's %s. Did the tape slip by %s?", got, words, direction, want, words), true
	case u == Inch && exact(inch):
		return fmt.Sprintf("%s is %s %s than the plan's %s. Did the tape begin at 0?", got, aboutInch(off.abs()), direction, want), true
	// One in fifty is fabric too; more is asked about.
	case planned.Scale(inch, Of(50, 1, Inch)).Less(off.abs()):
		return fmt.Sprintf("%s is %s %s than the plan's %s. Is that so?", got, u.nearest(off.abs()).Exactly(), direction, want), true
	}
	return "", false
}

// aboutInch says how much of an inch a difference is that lies near one.
func aboutInch(off Length) string {
	inch := Of(1, 1, Inch)
	switch {
	case off.Equal(inch):
		return "a whole inch"
	case off.Less(inch):
		return "almost an inch"
	}
	return "a little over an inch"
}

// Plausible is the range in which Doubt asks only about what a usual slip explains:
// Mend either way, or one in fifty where that is more. Beyond it Doubt always asks.
func (lim Limits) Plausible(planned Length) (least, most Length) {
	off := longer(lim.Mend, planned.Scale(Of(1, 1, Inch), Of(50, 1, Inch)))
	if least = planned.Sub(off); least.Sign() < 0 {
		least = Length{}
	}
	return least, planned.Add(off)
}

// swaps are the length with two neighboring digits of its whole number changed over.
func swaps(l Length, u Unit) []Length {
	whole, _ := l.wholes(Of(1, 1, u))
	rest := l.Sub(Length{new(big.Rat).Mul(new(big.Rat).SetInt(whole), u.inches())})
	digits := []byte(whole.String())
	var list []Length
	for i := 0; i+1 < len(digits); i++ {
		d := append([]byte(nil), digits...)
		d[i], d[i+1] = d[i+1], d[i]
		if n, ok := new(big.Int).SetString(string(d), 10); ok {
			list = append(list, Length{new(big.Rat).Mul(new(big.Rat).SetInt(n), u.inches())}.Add(rest))
		}
	}
	return list
}
