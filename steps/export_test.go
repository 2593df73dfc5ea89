package steps

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"cornerwise/calc"
)

// What package steps_test can't see from outside, and is tested all the same: the tables.
// An edition to come is tried by changing them, which no program does while it runs.

// A Later is an edition to come, and what it changes in the tables.
type Later struct {
	Added    []string
	Replaced [][2]string // ids that are gone, and what stands for them

	// Rows are, by the id of a row, what stands in its place from now on; none: it is gone.
	Rows map[string][]Row
	// Longer are names in numbers whose lengths come out 1/2 in longer from now on.
	Longer []string
	// Needs and Numbers are ids of rows of which the edition says how it was before it.
	Needs, Numbers []string
	// Measures and Steps are ids that are gone, and those that stand for them now.
	Measures, Steps map[string]string
}

// A Row is like the one in whose place it stands, but for what is given. Needs that begin
// with + come to those of before.
type Row struct{ ID, Needs, Number string }

// Append makes the program one of a later edition until the test ends. Such a test does
// not run beside others.
func Append(t testing.TB, l Later) {
	wasEditions, wasProcedure, wasNumbers := editions, procedure, numbers
	t.Cleanup(func() {
		editions, procedure, numbers = wasEditions, wasProcedure, wasNumbers
		lastCensus.Store(nil)
	})

	e := edition{added: l.Added, measures: l.Measures, steps: l.Steps,
		needs: map[string]string{}, numbers: map[string]reckoning{}}
	for _, r := range l.Replaced {
		e.replaced = append(e.replaced, replacement{r[0], r[1]})
	}
	procedure = nil
	for _, stage := range wasProcedure {
		stage.steps = slices.Clone(stage.steps)
		for i := range stage.steps {
			l.change(&stage.steps[i], e)
		}
		procedure = append(procedure, stage)
	}
	numbers = maps.Clone(numbers)
	for _, name := range l.Longer {
		reckon := numbers[name]
		numbers[name] = func(q *quilt, n names) []Number { return longer(reckon(q, n)) }
	}
	editions = append(slices.Clone(editions), e)
	lastCensus.Store(nil)
}

func (l Later) change(step *stepRow, e edition) {
	if is := l.Steps[step.id]; is != "" {
		step.id = is
	}
	step.measures = slices.Clone(step.measures)
	for i := range step.measures {
		if is := l.Measures[step.measures[i].id]; is != "" {
			step.measures[i].id = is
		}
	}
	step.ticks = slices.Clone(step.ticks)
	for i := range step.ticks {
		var rows []tickRow
		for _, row := range step.ticks[i].rows {
			if slices.Contains(l.Needs, row.id) {
				e.needs[row.id] = row.needs
			}
			if slices.Contains(l.Numbers, row.id) {
				e.numbers[row.id] = numbers[row.number]
			}
			in, changed := l.Rows[row.id]
			if !changed {
				in = []Row{{}}
			}
			for _, r := range in {
				rows = append(rows, r.in(row))
			}
		}
		step.ticks[i].rows = rows
	}
}

func (r Row) in(row tickRow) tickRow {
	if r.ID != "" {
		row.id = r.ID
	}
	if more, comes := strings.CutPrefix(r.Needs, "+"); comes {
		row.needs += more
	} else if r.Needs != "" {
		row.needs = r.Needs
	}
	if r.Number != "" {
		row.number = r.Number
	}
	return row
}

func longer(all []Number) []Number {
	for i := range all {
		all[i].Figures = slices.Clone(all[i].Figures)
		for k := range all[i].Figures {
			f := &all[i].Figures[k]
			f.Length = f.Length.Add(calc.Of(1, 2, calc.Inch))
		}
	}
	return all
}

// KnowsVerb tells whether an act that begins with a word is a deed to be ticked.
func KnowsVerb(word string) bool {
	_, ok := verbs[sentence(word)]
	return ok
}

// ActsOf are the commands that a way out is taken apart into, each with its why.
func ActsOf(way calc.WayOut) []string {
	var all []string
	for _, a := range actsOf(way) {
		all = append(all, a.say+" | "+a.why)
	}
	return all
}

// Ordinal is a count in words: 1st, 2nd.
func Ordinal(n int) string { return ordinal(n) }
