package steps

import (
	"bytes"
	"encoding/json"
	"slices"

	"cornerwise/calc"
)

// A Change is what of the state an op made new; it goes to every device.
type Change struct {
	Here     string            `json:"here,omitempty"`
	Ticks    map[string]bool   `json:"ticks,omitempty"`
	Later    map[string]string `json:"later,omitempty"` // why they are put off; "": no more
	Measures map[string]string `json:"measures,omitempty"`
	Notes    map[string]string `json:"notes,omitempty"`
	Last     *Done             `json:"last"` // what undo would take back now; null: nothing
	// Steps come whole where more of them is new than ticks, values and notes.
	Steps []Step `json:"steps,omitempty"`
	// Plan, Sheet and Stages come whole, when numbers or steps changed.
	Plan   json.RawMessage `json:"plan,omitempty"`
	Sheet  *calc.Sheet     `json:"sheet,omitempty"`
	Stages []Stage         `json:"stages,omitempty"`
	Gone   *[]Fate         `json:"gone,omitempty"` // all of Work.Gone, when that changed
}

// MarshalJSON gives {"op", "at", "text"}.
func (d *Done) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Op   string `json:"op"`
		At   string `json:"at"`
		Text string `json:"text"`
	}{d.Op.ID, d.At.UTC().Format("2006-01-02T15:04:05.000Z07:00"), d.Text})
}

// told is the last thing done as others hear of it: without the work before it, which is
// large, and without what else the op holds.
func (d *Done) told() *Done {
	if d == nil {
		return nil
	}
	return &Done{Op: Op{ID: d.Op.ID}, At: d.At, Text: d.Text}
}

// changed compares two Works step by step. Steps that they share are skipped. A Change is kept
// for a while: it holds neither Work.
func changed(was, is *Work) Change {
	c := Change{Last: is.Last.told()}
	if is == was {
		return c
	}
	if is.Here != was.Here {
		c.Here = is.Here
	}
	if !bytes.Equal(is.Source, was.Source) {
		c.Plan = is.Source
	}
	if !slices.Equal(is.Gone, was.Gone) {
		gone := is.Gone
		c.Gone = &gone
	}
	if is.index != was.index {
		sheet := is.Sheet
		c.Sheet, c.Stages = &sheet, is.Stages
		return c
	}
	for i := range is.Stages {
		if &is.Stages[i].Steps[0] == &was.Stages[i].Steps[0] {
			continue
		}
		for j := range is.Stages[i].Steps {
			c.step(&was.Stages[i].Steps[j], &is.Stages[i].Steps[j])
		}
	}
	return c
}

func (c *Change) step(was, is *Step) {
	if is.Note != was.Note {
		if c.Notes == nil {
			c.Notes = map[string]string{}
		}
		c.Notes[is.ID] = is.Note
	}
	for k := range is.Ticks {
		if t := &is.Ticks[k]; t.Done != was.Ticks[k].Done {
			if c.Ticks == nil {
				c.Ticks = map[string]bool{}
			}
			c.Ticks[t.ID] = t.Done
		}
		if t := &is.Ticks[k]; t.Later != was.Ticks[k].Later {
			put(&c.Later, t.ID, t.Later)
		}
	}
	if is.tells(was) {
		c.Steps = append(c.Steps, *is)
	}
	for k := range is.Measures {
		if m := &is.Measures[k]; m.Value != was.Measures[k].Value {
			if c.Measures == nil {
				c.Measures = map[string]string{}
			}
			c.Measures[m.ID] = m.Value
		}
	}
}

// tells says whether a step has something to say that it did not say before.
func (s *Step) tells(was *Step) bool {
	if len(s.Findings) != len(was.Findings) || len(s.Findings) > 0 && &s.Findings[0] != &was.Findings[0] {
		return true
	}
	for k := range s.Ticks {
		is, was := &s.Ticks[k], &was.Ticks[k]
		if is.Despite != was.Despite || is.New != was.New || is.Passed != was.Passed || is.Opened != was.Opened || len(is.Numbers) > 0 && &is.Numbers[0] != &was.Numbers[0] {
			return true
		}
	}
	for k := range s.Measures {
		if s.Measures[k].Doubt != was.Measures[k].Doubt {
			return true
		}
	}
	return false
}
