package steps

import (
	"encoding/json"
	"time"

	"cornerwise/calc"
)

// The kinds of op.
const (
	KindPlan    = "plan"    // the plan, new or changed; the first op of every session
	KindTick    = "tick"    // Tick is done, or open again; or Ticks are, all or none
	KindMeasure = "measure" // Measure has Value; "" clears it; with Done its tick is done too
	KindHere    = "here"    // work goes on at Step
	KindNote    = "note"    // Step has the note Text; "" clears it
	KindLater   = "later"   // Tick is put off, with the reason Why; "" takes it up again
	KindRedo    = "redo"    // work undone in fabric: Tick and all that needs it are open again
	KindSeen    = "seen"    // the changed numbers of Step, of Tick, or of all are seen
	KindMend    = "mend"    // the way out Way of Wrong, a finding or a trouble, is taken
	KindUndo    = "undo"    // takes back the last op, whose id is Of
)

// An Op is one thing that a person did. ID is made by the client; the same ID
// twice is the same op.
type Op struct {
	ID      string   `json:"op"`
	Kind    string   `json:"kind"`
	Tick    string   `json:"tick,omitempty"`
	Ticks   []string `json:"ticks,omitempty"` // several at once, in this order, for Tick
	Done    *bool    `json:"done,omitempty"`
	Measure string   `json:"measure,omitempty"`
	Value   string   `json:"value,omitempty"`
	Step    string   `json:"step,omitempty"`
	Text    string   `json:"text,omitempty"`
	Why     string   `json:"why,omitempty"`
	Number  string   `json:"number,omitempty"` // as shown when Tick was done; "": not sent
	// Numbers are what Number is, of Ticks, by tick.
	Numbers map[string]string `json:"numbers,omitempty"`
	Of      string            `json:"of,omitempty"`
	Plan    json.RawMessage   `json:"plan,omitempty"`

	// For mend: the trouble's id or what a finding is of, the way's id, and for a trouble
	// which strip, edge or corner, and what was measured, by ask id.
	Wrong  string            `json:"wrong,omitempty"`
	Way    string            `json:"way,omitempty"`
	Border int               `json:"border,omitempty"`
	Edge   string            `json:"edge,omitempty"`
	Edges  calc.Edges        `json:"edges,omitempty"`
	Corner int               `json:"corner,omitempty"`
	Values map[string]string `json:"values,omitempty"`
}

// An Entry is an op as it was taken: with its revision and time. Edition is the edition
// of the tables that it was taken under, where the entry before it does not say the same;
// a history that names none is of the first. By is the device that did it, as it was named
// then; "" for the computer that serves, and in entries from before devices were named. It is
// no part of the op: the server says who it was.
type Entry struct {
	Rev     int64     `json:"rev"`
	At      time.Time `json:"at"`
	By      string    `json:"by,omitempty"`
	Edition int       `json:"edition,omitempty"`
	Op
}

// The codes of refusals that programs may look at.
const (
	NotYet        = "not-yet"        // a tick whose needs are open
	InUse         = "in-use"         // unticking what others need
	NotLast       = "not-last"       // undoing an op that is not the last
	LookFirst     = "look-first"     // trimming a corner whose look is no pass, without a why
	NumberChanged = "number-changed" // a tick done to a number that is another now
	UnknownTick   = "unknown-tick"   // and its like: an id that this session does not have
	UnknownStep   = "unknown-step"   //
	UnknownMeas   = "unknown-measure"
	UnknownWrong  = "unknown-wrong"
	BadOp         = "bad-op"    // an op that no session could take
	BadValue      = "bad-value" // a measure that is no length
	BadPlan       = "bad-plan"  // Faults tells
)

// A Refusal is why an op was not taken. It changes nothing.
type Refusal struct {
	Code    string      `json:"code"`
	Field   string      `json:"field,omitempty"`
	Message string      `json:"message"`
	Missing []string    `json:"missing,omitempty"` // tick ids, for not-yet and in-use
	Faults  calc.Faults `json:"faults,omitempty"`  // all of them, for bad-plan
}

func (r *Refusal) Error() string { return r.Message }

// Clash tells a refusal that came from the state of the work (409) from one
// that is wrong in itself (422).
func (r *Refusal) Clash() bool {
	switch r.Code {
	case NotYet, InUse, NotLast, LookFirst, NumberChanged:
		return true
	}
	return false
}
