package session

import (
	"encoding/json"
	"fmt"
	"runtime/debug"

	"cornerwise/steps"
)

// begin, apply, resume and recall are those of steps, with a panic there made an error: one op
// must not end the store. The error has the lines of code, not what anybody wrote.

func begin(plan json.RawMessage) (work *steps.Work, err error) {
	defer caught(&err)
	return steps.Begin(plan)
}

func resume(first steps.Entry) (work *steps.Work, err error) {
	defer caught(&err)
	return steps.Resume(first)
}

func apply(work *steps.Work, e steps.Entry) (next *steps.Work, change steps.Change, err error) {
	defer caught(&err)
	return work.Apply(e.Op, e.At)
}

func recall(work *steps.Work, e steps.Entry) (next *steps.Work, change steps.Change, err error) {
	defer caught(&err)
	next, change = work.Recall(e)
	return next, change, nil
}

func caught(err *error) {
	if p := recover(); p != nil {
		*err = fmt.Errorf("a fault in the program stopped an op: %T\n%s", p, debug.Stack())
	}
}

// fold is the work after one more entry of a history, nil before the first. What was taken
// once is not judged again.
func fold(work *steps.Work, e steps.Entry) (*steps.Work, steps.Change, error) {
	if work == nil {
		first, err := resume(e)
		return first, steps.Change{}, err
	}
	return recall(work, e)
}
