package calc

import (
	"fmt"
	"slices"
	"strings"
)

// A Look is what is seen at a sewn corner before it is trimmed.
type Look string

const (
	LookFlat    Look = "flat"
	LookPucker  Look = "pucker"   // fabric is drawn up at the dot
	LookGap     Look = "gap"      // a hole at the dot
	LookStripes Look = "stripes"  // stripes, prints or seams of the two strips miss each other
	LookPleat   Look = "pleat"    // a fold is sewn in
	LookNotFlat Look = "not-flat" // the corner stands up or ripples
)

// Looks are all of them, what passes first.
var Looks = []Look{LookFlat, LookPucker, LookGap, LookStripes, LookPleat, LookNotFlat}

// A CornerLook is what a look means: whether the trim may follow, and what else it may
// come from, the likeliest cause first.
type CornerLook struct {
	Pass    bool    `json:"pass"`
	Verdict Verdict `json:"verdict"` // its Kind is the look
	Causes  []Cause `json:"causes"`
	Shift   *Shift  `json:"shift,omitempty"` // of stripes that miss by so much
}

// A Cause is where a fault may come from, how to tell, and what is done about it. Redo are
// the first ticks that open, as the procedure names them, {corner} to be filled in; Then is
// what they and those after them have done.
type Cause struct {
	Text string   `json:"text"`
	Tell string   `json:"tell"`
	Acts []string `json:"acts"`
	Redo []string `json:"redo"`
	Then []string `json:"then,omitempty"`

	first    *First
	cutsAnew bool // a strip that meets at the corner
}

// A Shift is how stripes that miss at a miter are brought together. A line y out from
// the inner seam of a band finished O wide meets the miter y × N/O along the strip, N
// the neighbor's width: where bands are equal, as far along as it lies out. A miss of
// m along a side strip is closed by moving its seam m × S/T, or the neighbor's by m,
// or both by half: one is taken in, the other let out. Derived; no source.
type Shift struct {
	Miss     Figure       `json:"miss"`
	EachSeam Pair[Figure] `json:"eachSeam"` // where both seams share it
	LetOut   Figure       `json:"letOut"`   // the most a seam can be let out and hold
	AtMiter  Figure       `json:"atMiter"`  // what the miter alone takes up from dot to edge
	RunOut   Figure       `json:"runOut"`   // over so much the moved seam goes back into the old one

	moves bool // it is so far that seams are moved, and so little that they can be
}

// Where a corner is taken up again. Bands that differ are lined before they are folded.
var (
	fromTurn = []string{"miter.{corner}.turned"}
	fromPins = []string{"miter.{corner}.pinned"}
	fromSeam = []string{"miter.{corner}.sewn"}
	fromLook = []string{"miter.{corner}.looked"}
)

// What is done at a corner, in the order of the work.
const (
	unpickMiter = "Unpick the miter from the dot outward."
	pressTails  = "Press both tails flat."
	foldAgain   = "Fold the corner as before, tails right sides together."
	turnAway    = "Fold the border seams' allowances at the dot back onto the center, and pin them."
	pinLine     = "Pin across the line."
	pinDot      = "Pin across the line beside the dot."
	sewOut      = "Sew from the dot to the outer edge, and backstitch at both ends."
	lookAgain   = "Look at the corner from the front."
)

// overUnpicked sews what was unpicked from the dot on, into the stitches that are left.
func overUnpicked(u Unit) string {
	over := "1/2 in"
	if u == Centimeter {
		over = "1 cm"
	}
	return fmt.Sprintf("Sew from the dot to the stitches that are left, and %s over them.", over)
}

// fromFold is the corner begun again.
func fromFold(equal bool) []string {
	if equal {
		return []string{"miter.{corner}.folded"}
	}
	return []string{"miter.{corner}.folded", "miter.{corner}.turned"}
}

// then is what the ticks of a corner have done, from those on that open.
func then(from []string, equal bool) []string {
	end := []string{pinLine, sewOut, lookAgain}
	switch {
	case from[0] == fromLook[0]:
		return end[2:]
	case from[0] == fromSeam[0]:
		return end[1:]
	case from[0] == fromPins[0]:
		return end
	case !equal:
		return append([]string{turnAway, "Draw the line on both strips, from the dot to the outer edge.",
			"Fold the corner until one line lies on the other."}, end...)
	case from[0] == fromTurn[0]:
		return append([]string{turnAway, "Draw the line from the dot to the outer edge."}, end...)
	}
	return append([]string{"Fold the center on the diagonal, tails right sides together.", turnAway,
		"Draw the line from the dot to the outer edge."}, end...)
}

// meet is what has to meet at a miter: stripes, a print, the seams between borders; ""
// where nothing does.
func (p Plan) meet() string {
	what := ""
	for _, b := range p.Borders {
		switch {
		case b.Stripe.Sign() > 0:
			return "stripes"
		case b.Motif.Sign() > 0 && b.Fabric.Heads != Up:
			what = "prints"
		}
	}
	if what == "" && len(p.Borders) > 1 {
		return "seams"
	}
	return what
}

// meeting is meet, and the strips themselves where nothing has to.
func (p Plan) meeting() string {
	if what := p.meet(); what != "" {
		return what
	}
	return "strips"
}

// Meet is what has to meet at the miters of this plan: "stripes", "prints", "seams"
// between its borders, or "" on one plain border.
func (p Plan) Meet() string { return p.meet() }

// CheckCorner says what a look means. miss is how far what has to meet does not, along the
// strip, for LookStripes only.
func CheckCorner(p Plan, s Sheet, look Look, miss Length, lim Limits) CornerLook {
	c := checkCorner(p, s, look, miss, lim)
	for i := range c.Causes {
		if x := &c.Causes[i]; len(x.Redo) > 0 && x.Redo[0] != "cut.{border}.{edge}.measured" {
			x.Then = then(x.Redo, s.Corner.Equal())
		}
	}
	return c
}

func checkCorner(p Plan, s Sheet, look Look, miss Length, lim Limits) CornerLook {
	seam := p.Unit.nearest(p.Seam).Exactly()
	inch := "1 in"
	if p.Unit == Centimeter {
		inch = "2 cm"
	}
	start := fmt.Sprintf("Unpick the miter for %s, from the dot outward.", inch)
	verdict := func(text, act string) Verdict { return Verdict{string(look), text, act} }
	switch look {
	case LookFlat:
		text := "No pucker and no gap: it may be trimmed."
		if what := p.meet(); what != "" && p.BordersAlike() {
			text = fmt.Sprintf("No pucker, no gap, and the %s meet: it may be trimmed.", what)
		}
		return CornerLook{Pass: true, Verdict: verdict(text, ""), Causes: []Cause{}}
	case LookPucker:
		return CornerLook{Verdict: verdict("A seam goes past the dot and holds fabric that must be free.", "Do not trim. Look at the dot from the back."), Causes: []Cause{
			{Text: "The miter starts inside the dot.", Tell: "Its first stitches lie in the center's seam allowance.",
				Acts: []string{start, foldAgain, turnAway, pinDot, overUnpicked(p.Unit)}, Redo: fromLook, first: &First{Deeds: 2, Redo: fromSeam}},
			{Text: "A border seam runs on past the dot.", Tell: fmt.Sprintf("It ends nearer than %s to the center's raw edge.", seam),
				Acts: []string{unpickMiter, "Unpick the border seam back to the dot.", "Press both tails flat, and the border seam's end.",
					"Needle down in the dot, and backstitch into the border seam.", foldAgain, turnAway},
				Redo: fromPins, first: &First{Deeds: 3}},
		}}
	case LookGap:
		return CornerLook{Verdict: verdict("A seam stops short of the dot.", "Do not trim. Hold the corner against the light."), Causes: []Cause{
			{Text: "The miter starts outside the dot.", Tell: "The hole lies on the miter.",
				Acts: []string{foldAgain, turnAway, pinDot, "Sew from the dot over the first " + inch + " again, on the same line."},
				Redo: fromLook, first: &First{Deeds: 1, Redo: fromSeam}},
			{Text: "A border seam ends before the dot.", Tell: fmt.Sprintf("It ends more than %s from the center's raw edge.", seam),
				Acts: []string{start, "Pin the border seam at the dot, right sides together.", "Sew that seam on to the dot, and backstitch.", "Press that seam flat.", foldAgain, turnAway, pinDot, overUnpicked(p.Unit)},
				Redo: fromLook, first: &First{Deeds: 2, Redo: fromSeam}},
		}}
	case LookPleat:
		caught := Cause{Text: "A border seam's allowance is caught in the miter.", Tell: "At the dot more than two layers are sewn.",
			Acts: []string{unpickMiter, pressTails, foldAgain}, Redo: fromTurn, first: &First{Deeds: 3}}
		if !s.Corner.Equal() { // folded after it is turned and lined
			caught.Acts = caught.Acts[:2]
		}
		return CornerLook{Verdict: verdict("Something is sewn in that must be free.", "Do not trim. Feel under the corner."), Causes: []Cause{caught,
			{Text: "A tail was not flat when it was sewn.", Tell: "The pleat lies along the miter, away from the dot.",
				Acts: []string{unpickMiter, pressTails, foldAgain, turnAway, "Smooth both tails from the fold outward."},
				Redo: fromPins, first: &First{Deeds: 2}},
		}}
	case LookNotFlat:
		return CornerLook{Verdict: verdict("The miter is not on the true diagonal, or its edge has stretched.", "Do not trim. Lay a ruler on the miter."), Causes: []Cause{
			{Text: "The line is at the wrong angle.", Tell: fmt.Sprintf("From dot to raw outer edge it should be %s; the angle at a side's seam is %.1f°.", s.Corner.sewn().Shown(), float64(s.Corner.AngleSides)),
				Acts: []string{unpickMiter, pressTails}, Redo: fromFold(s.Corner.Equal()), first: &First{Deeds: 2, Redo: fromFold(true)}},
			{Text: "The bias edge is stretched.", Tell: "It lies flat when you pat it together.",
				Acts: []string{"If a little steam makes it lie flat, leave it so.", unpickMiter,
					"Press both tails from the back: set the iron down and lift it, with a little steam.", foldAgain, turnAway},
				Redo: fromPins, first: &First{Deeds: 1}},
			{Text: "The band is longer or shorter than the center.", Tell: "The ripple runs on along the edge.",
				Acts: []string{"Measure the band along its seam and compare it with the center's side."}, Redo: []string{}},
		}}
	}
	return stripesMiss(p, s, miss, lim)
}

func stripesMiss(p Plan, s Sheet, miss Length, lim Limits) CornerLook {
	fig := p.Unit.nearest
	shared := func(l Length) Figure { return Figure{l, p.Unit, Shared} }
	sides, ends := s.Bands.Sides.Finished.Length, s.Bands.TopBottom.Finished.Length
	half := miss.Half()
	sh := &Shift{
		Miss: fig(miss), EachSeam: Pair[Figure]{shared(half.Scale(sides, ends)), shared(half)},
		LetOut: fig(Length{}), AtMiter: fig(lim.Easing(s.Corner.FinishedLine.Length)),
		RunOut: fig(half.Scale(lim.EasedIn, lim.Eased)),
	}
	if out := p.Seam.Sub(lim.Held); out.Sign() > 0 {
		sh.LetOut.Length = out
	}
	told, what, one := p.Unit.exactly(miss).Shown(), p.meeting(), "line"
	switch what {
	case "stripes", "prints":
		one = strings.TrimSuffix(what, "s")
	case "seams":
		one = "seam"
	}
	c := CornerLook{Shift: sh, Causes: []Cause{}}
	again := Cause{Text: "The tails slipped when they were pinned.", Tell: "The raw edges of the two tails do not lie on each other.",
		Acts: []string{unpickMiter, pressTails, foldAgain, turnAway, "Pin the tails again, raw edges even."},
		Redo: fromPins, first: &First{Deeds: 2}}
	if !sh.AtMiter.Length.Less(miss) { // so little is taken up, a tail is not pulled farther
		again.Acts[4] = fmt.Sprintf("The pins hold %s on %s: nothing moved at the dot, %s at the outer edge.", one, one, told)
	}
	// A line that lies nearer the seam than the other strip's comes to meet it where that
	// seam is let out: nearer the raw edges of strip and center.
	by, far := " "+sh.EachSeam.TopBottom.Shown(), ""
	if sh.EachSeam.Sides.Shown() != sh.EachSeam.TopBottom.Shown() {
		by, far = "", fmt.Sprintf("The side's seam moves by %s, the other by %s.", sh.EachSeam.Sides.Shown(), sh.EachSeam.TopBottom.Shown())
	}
	let := fmt.Sprintf("Draw a seam%s nearer the raw edge, on the strip whose %s lies nearer the center.", by, one)
	take := fmt.Sprintf("Draw a seam%s farther from the raw edge, on the other strip.", by)
	off := "A border seam is off, or a strip was cut on another line."
	if what != "stripes" {
		off = "A border seam is off."
	}
	seams := Cause{Text: off, Tell: fmt.Sprintf("The same %s lies nearer to the center on one strip than on the other.", one),
		Acts: []string{unpickMiter, fmt.Sprintf("Unpick both border seams from the dot, %s back.", sh.RunOut.Shown()), "Press tails and center flat.", let, take, far,
			fmt.Sprintf("The new lines run to nothing over %s.", sh.RunOut.Shown()), "Mark the dot anew where the two new lines cross.", "Pin both border seams on the new lines.",
			"Sew both on the new lines to the new dot, and backstitch.", "Press both seams toward the border."},
		Redo: fromFold(s.Corner.Equal()), first: &First{Deeds: 3, Redo: fromFold(true)}}
	seams.Acts = slices.DeleteFunc(seams.Acts, func(act string) bool { return act == "" })
	cut := Cause{Text: "A strip was cut on another line of the stripe.", Tell: "Along its whole length another line lies at the seam.",
		Acts: []string{"No seam can be moved so far.", "Cut that strip again, from the same line of the stripe as the others.", "If there is no fabric for it, sew on: the miss will show."},
		Redo: []string{"cut.{border}.{edge}.measured"}, first: &First{Deeds: 0}, cutsAnew: true}
	switch what {
	case "prints":
		cut.Text, cut.Tell = "A strip was not centered on the print.", "Its middle mark lies beside the motif."
		cut.Acts[1] = "Cut that strip again, centered on the print as the others are."
	case "seams", "strips":
		cut.Text, cut.Tell = "A strip was cut at another width.", "Its band is wider or narrower along its whole length."
		cut.Acts[1] = "Cut that strip again, at the width of the others."
	}
	compare := fmt.Sprintf("Compare where the %s lies along both strips.", one)
	if what == "seams" || what == "strips" {
		compare = "Compare the strips' widths along their whole length."
	}
	movable := lesser(sh.LetOut.Length.Times(2), sh.LetOut.Length.Times(2).Scale(ends, sides))
	says := func(text, act string) Verdict {
		return Verdict{string(LookStripes), "They miss by " + told + text, act}
	}
	switch {
	case !lim.Seen.Less(miss):
		c.Pass = true
		c.Verdict = says(fmt.Sprintf(": up to %s is hardly seen.", fig(lim.Seen).Exactly()), "")
	case !sh.AtMiter.Length.Less(miss):
		c.Verdict = says(fmt.Sprintf(". The miter alone can take up to %s.", sh.AtMiter.Shown()), fmt.Sprintf("Unpick the miter, pin %s on %s, sew again.", one, one))
		c.Causes, sh.moves = []Cause{again, seams}, true
	case !movable.Less(miss):
		c.Verdict = says(fmt.Sprintf(", more than the miter alone takes up (%s).", sh.AtMiter.Shown()), "Look at both border seams first.")
		c.Causes, sh.moves = []Cause{seams, again}, true
	default:
		c.Verdict = says(fmt.Sprintf(". Two seams together can be moved by %s at most.", fig(movable).Shown()), compare)
		c.Causes = []Cause{again, cut}
	}
	return c
}
