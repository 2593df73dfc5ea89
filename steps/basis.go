package steps

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"cornerwise/calc"
)

// A basis is what the numbers of a quilt rest on, as far as that is told when they are
// others. It is small: ticks keep the one that they were seen on.
type basis struct {
	source  json.RawMessage // the plan as it was written
	plan    calc.Plan       // bare
	pieced  calc.Area
	center  calc.Area // with its coping strips
	settled pairOfSizes
	first   calc.Edges // the pair sewn first
}

// bare is a plan without its title, and without what follows from measures.
func bare(p calc.Plan) calc.Plan {
	p.Center, p.Title = calc.Size{}, ""
	if c := p.Coping; c != nil && c.Reckoned {
		p.Coping = &calc.Coping{Edges: c.Edges, Reckoned: true}
	}
	return p
}

// why is what made numbers others since they rested on another basis.
func (b *basis) why(since *basis) string {
	var why []string
	if b != since && !reflect.DeepEqual(b.plan, since.plan) {
		why = append(why, "The plan was changed.")
	}
	was, is := since.center, b.center
	if is.Width.Length.Equal(was.Width.Length) && is.Length.Length.Equal(was.Length.Length) { // coping made up for it
		was, is = since.pieced, b.pieced
	}
	if is.Width.Length.Cmp(was.Width.Length) != 0 || is.Length.Length.Cmp(was.Length.Length) != 0 {
		why = append(why, fmt.Sprintf("The center is %s × %s now, not %s × %s.", is.Width.Exactly(), is.Length.Exactly(), was.Width.Exactly(), was.Length.Exactly()))
		if how := b.settled.how(); how != since.settled.how() {
			why = append(why, how)
		}
	}
	if b.first != since.first {
		why = append(why, fmt.Sprintf("%s are sewn first now.", sentence(pairs[b.first].words)))
	}
	if len(why) == 0 {
		return "It was reckoned anew."
	}
	return strings.Join(why, " ")
}

// reason is why numbers are others than were seen.
func (b *basis) reason(seen view) string {
	switch {
	case !seen.earlier:
		return b.why(seen.of)
	case b == seen.of:
		return otherwise
	}
	return otherwise + " " + b.why(seen.of)
}

// otherwise is why a number is another where neither plan nor measures changed.
const otherwise = "The program reckons it otherwise now."
