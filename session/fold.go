package session

import (
	"encoding/json"
	"errors"
	"fmt"
	"runtime/debug"

	"cornerwise/steps"
)

// begin and apply are those of steps, with a panic there made an error: one op
// must not end the store. The error has the lines of code, not what anybody wrote.

func begin(plan json.RawMessage) (work *steps.Work, err error) {
	defer caught(&err)
	return steps.Begin(plan)
}

func apply(work *steps.Work, e steps.Entry) (next *steps.Work, change steps.Change, err error) {
	defer caught(&err)
	return work.Apply(e.Op, e.At)
}

func caught(err *error) {
	if p := recover(); p != nil {
		*err = fmt.Errorf("a fault in the program stopped an op: %T\n%s", p, debug.Stack())
	}
}

// fold is the work after one more entry of the file. An op that was taken once and
// that today's steps refuse leaves the work as it was: it stays in the history.
func fold(work *steps.Work, e steps.Entry) (*steps.Work, steps.Change, error) {
	if work == nil {
		first, err := begin(e.Op.Plan)
		return first, steps.Change{}, err
	}
	next, change, err := apply(work, e)
	var refusal *steps.Refusal
	if errors.As(err, &refusal) {
		return work, steps.Change{Last: work.Last}, nil
	}
	return next, change, err
}
