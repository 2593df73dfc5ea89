package steps

import (
	"fmt"
	"slices"
)

// A groupRow is ticks of one step that somebody practiced does without a look at each: the
// practiced pace takes them at once. A tick belongs to it by its column group. Cuts and looks
// belong to none.
type groupRow struct {
	round round // within its step; nil: once
	when  when
	id    string // alike for all its ticks, and kept by nobody
	label string // what is then done, for the button
	title string
	say   string // the command, at most 20 words
}

// A Group is ticks of one step that belong together. Those that are open are taken at once by
// one op tick with ticks, in their order, once each is open but for the others.
type Group struct {
	ID    string `json:"id"`
	Label string `json:"label"`
	Title string `json:"title"`
	Say   string `json:"say"`
}

// MaxTogether is how many ticks one op may take.
const MaxTogether = 40

// groups are those of a step that its ticks belong to, two of them at least. A tick that is
// alone in its group has none.
func (q *quilt) groups(rows []groupRow, n names, ticks []Tick) []Group {
	var all []Group
	for _, row := range rows {
		for _, n := range row.round.repeats(q, n) {
			id := n.fill(row.id)
			if row.when != nil && !row.when(q, n) || !together(ticks, id) {
				continue
			}
			all = append(all, Group{id, sentence(n.fill(row.label)), sentence(n.fill(row.title)), sentence(n.fill(row.say))})
		}
	}
	known := func(id string) bool {
		return slices.ContainsFunc(all, func(g Group) bool { return g.ID == id })
	}
	for i := range ticks {
		if t := &ticks[i]; !known(t.Group) {
			t.Group, t.As = "", ""
		}
	}
	return all
}

func together(ticks []Tick, group string) bool {
	n := 0
	for _, t := range ticks {
		if t.Group == group {
			n++
		}
	}
	return n > 1
}

// labelOf is what ticks that were done at once are called: by their group, where they are all
// that was open of it; else by the first of them, and how many more.
func (w *Work) labelOf(ids []string) string {
	step, first := w.Tick(ids[0])
	for _, g := range step.Groups {
		if g.ID == first.Group && step.completes(g.ID, ids) {
			return step.at(g.Label)
		}
	}
	return step.at(first.Label) + more(len(ids)-1)
}

// completes tells whether ticks are all of one group, and it is done with them.
func (s *Step) completes(group string, ids []string) bool {
	left := len(ids)
	for i := range s.Ticks {
		t := &s.Ticks[i]
		if t.Group != group {
			continue
		}
		switch {
		case slices.Contains(ids, t.ID):
			left--
		case !t.Done && !t.Passed:
			return false
		}
	}
	return left == 0
}

func more(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", and %d more", n)
}
