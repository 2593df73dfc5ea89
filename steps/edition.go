package steps

import (
	"slices"
	"strconv"
	"strings"
	"sync/atomic"

	"cornerwise/calc"
)

// An edition is one state of the procedure's tables. A session keeps the edition that it
// was begun under, and each op the one that it was taken under: an op that was taken
// stays taken, whatever the tables say later.
//
// Who changes what a tick is (its id, its needs, its number, its row's round) adds an
// edition here, at the end, and says what became of the one before. Words (label, title,
// say, why) are no part of an edition. A row that no edition names belongs to the next.
type edition struct {
	// added are the ids of the rows that came with it, as the tables write them. In
	// sessions begun earlier they stand open, say that they are new, and lock nothing
	// that was done without them.
	added []string
	// replaced are ticks whose ids are gone.
	replaced []replacement
	// needs are, by the id of a row, what it needed before this edition.
	needs map[string]string
	// numbers are, by the id of a row, how its numbers were reckoned before this edition.
	numbers map[string]reckoning
	// measures and steps are ids that are gone, and those that stand for them now.
	measures, steps map[string]string
}

// A replacement tells which ticks stand for others whose ids are gone. Both are ids as the
// tables write them, parted by blanks. When all in was are done, all in is count as done.
// A {border}, {edge} or {corner} that only one of them holds stands for each that the
// quilt has. Where nothing stands for them, is is "".
type replacement struct{ was, is string }

// editions are all of them; the first is number 1. Only ever append.
var editions = []edition{
	{added: rowsOf(`
		center.pressed width.top width.middle width.bottom length.left length.middle
		length.right diagonal.1 diagonal.2 square.{corner}.looked center.trimmed size.settled
		coping.{edge}.measured coping.{edge}.cut coping.{edge}.pinned coping.{edge}.sewn
		coping.{edge}.pressed coping.measured
		cloth.{border}.pressed cloth.{border}.line join.{border}.{edge}.measured
		join.{border}.{edge}.cut join.{border}.{edge}.sewn join.{border}.{edge}.looked
		join.{border}.{edge}.trimmed join.{border}.{edge}.pressed cut.{border}.{edge}.measured
		cut.{border}.{edge}.cut cut.{border}.{edge}.inner band.{border}.{edge}.sewn
		band.{border}.{edge}.pressed
		mark.center.{edge} mark.{edge}.middle mark.{edge}.ends mark.dot.{corner}
		test.measured pair.chosen sew.{edge}.pinned sew.{edge}.sewn sew.{edge}.checked
		sew.{edge}.pressed
		miter.{corner}.folded miter.{corner}.turned miter.{corner}.lined
		miter.{corner}.linedSide miter.{corner}.linedEnd miter.{corner}.pinned
		miter.{corner}.sewn miter.{corner}.looked miter.{corner}.trimmed
		press.{corner}.opened press.{corner}.behind press.{corner}.front top.widths top.lengths
		top.diagonals
	`)}, // 1: the tables as they were first kept
	{ // 2: fabric squared, prints placed before the cut, bands pinned, lines drawn before joins
		added: rowsOf(`
			center.steadied fabric.{border}.squared join.{border}.{edge}.lined
			cut.{border}.{edge}.middle band.{border}.{edge}.pinned band.{border}.{edge}.checked
			machine.noted test.made press.{corner}.squared
			copingFabric.pressed copingFabric.squared
			coping.{edge}.parts coping.{edge}.partsCut coping.{edge}.joined coping.{edge}.joinPressed
		`),
		replaced: []replacement{
			{"cloth.{border}.pressed", "fabric.{border}.pressed"},
			{"cloth.{border}.line", "fabric.{border}.line"},
			{"cut.{border}.{edge}.inner", "cut.{border}.{edge}.ready"},
		},
		needs: map[string]string{
			"coping.{edge}.measured":        "size.settled",
			"center.trimmed":                "width.* length.* diagonal.* square.*.looked",
			"fabric.{border}.line":          "cloth.{border}.pressed",
			"join.{border}.{edge}.measured": sizeSettled + " cloth.{border}.pressed cloth.{border}.lin*",
			"join.{border}.{edge}.sewn":     "join.{border}.{edge}.cut",
			"cut.{border}.{edge}.measured":  sizeSettled + " cloth.{border}.pressed cloth.{border}.lin* join.{border}.{edge}.presse*",
			"cut.{border}.{edge}.cut":       "cut.{border}.{edge}.measured",
			"band.{border}.{edge}.sewn":     "cut.{border}.{edge}.inner cut.{next}.{edge}.inner",
			"mark.{edge}.middle":            "cut.*.{edge}.inner band.*.{edge}.pressed",
			"test.measured":                 "",
			// Unequal bands had the two lines before the fold, as they have now.
			"miter.{corner}.folded":    "sew.{side}.sewn sew.{end}.sewn miter.{corner}.linedS* miter.{corner}.linedE*",
			"miter.{corner}.linedSide": "miter.{corner}.turned",
			"miter.{corner}.linedEnd":  "miter.{corner}.turned",
			"top.widths":               "press.*.front",
			"top.lengths":              "press.*.front",
			"top.diagonals":            "press.*.front",
		},
		numbers: map[string]reckoning{
			"join.{border}.{edge}.measured": earlyPartsOf, // joins got their place
			"join.{border}.{edge}.cut":      earlyPartsOf,
			"join.{border}.{edge}.sewn":     earlyJoins,
			"join.{border}.{edge}.looked":   earlyJoins,
			"miter.{corner}.linedSide":      func(q *quilt, _ names) []Number { return []Number{q.line(calc.Sides), q.angle(calc.Sides)} },
			"miter.{corner}.linedEnd":       func(q *quilt, _ names) []Number { return []Number{q.line(calc.TopBottom), q.angle(calc.TopBottom)} },
		},
		steps: map[string]string{"cloth-{border}": "fabric-{border}", "band-{border}": "band-{border}-sides"},
	},
	{ // 3: the line of unequal bands at the pins and the needle is that of the strip on top, and
		// no seam is said to meet where single borders differ
		numbers: map[string]reckoning{
			"miter.{corner}.pinned": numbers["line"],
			"miter.{corner}.sewn":   func(q *quilt, _ names) []Number { return []Number{q.line(q.shorterLine()), stitch()} },
			"miter.{corner}.looked": func(q *quilt, _ names) []Number {
				if !q.sheet.Corner.Equal() {
					return nil
				}
				return q.seen(q.plan.Meet())
			},
		},
	},
}

func rowsOf(ids string) []string { return strings.Fields(ids) }

// Edition is the number of the edition that new sessions begin under.
func Edition() int { return rows().edition }

// since is the edition that a row came with; 1 for what is no row of the tables.
func since(row string) int { return max(rows().came[row], 1) }

// A census is which row came with which edition, of so many editions and rows.
type census struct {
	editions, rows int
	edition        int // the last one, with that of rows that no edition names
	came           map[string]int
}

var lastCensus atomic.Pointer[census]

// rows is the census of the tables as they are. It is taken once.
func rows() *census {
	n := 0
	for _, stage := range procedure {
		for _, step := range stage.steps {
			for _, group := range step.ticks {
				n += len(group.rows)
			}
		}
	}
	if c := lastCensus.Load(); c != nil && c.editions == len(editions) && c.rows == n {
		return c
	}
	c := &census{editions: len(editions), rows: n, edition: len(editions), came: map[string]int{}}
	for i, e := range editions {
		for _, id := range e.added {
			c.came[id] = i + 1
		}
	}
	for _, stage := range procedure {
		for _, step := range stage.steps {
			for _, group := range step.ticks {
				for _, row := range group.rows {
					c.settle(row.id)
				}
			}
		}
	}
	lastCensus.Store(c)
	return c
}

// settle says which edition a row came with that none names: one that stands for another
// is as old as that, any other belongs to the next edition.
func (c *census) settle(row string) {
	if c.came[row] > 0 {
		return
	}
	for _, e := range editions {
		for _, r := range e.replaced {
			for _, is := range strings.Fields(r.is) {
				if _, ok := match(row, is); ok {
					was, _, _ := strings.Cut(r.was, " ")
					c.came[row] = max(c.came[was], 1)
					return
				}
			}
		}
	}
	c.came[row], c.edition = len(editions)+1, len(editions)+1
}

// after are the editions that followed one.
func after(number int) []edition { return editions[min(number, len(editions)):] }

// neededIn are the ids, or patterns of ids, that a tick needed under an edition. What a
// mend put before it was needed under each.
func (t *Tick) neededIn(number int) []string {
	for _, e := range after(number) {
		if needs, ok := e.needs[t.row]; ok {
			all := strings.Fields(t.of.fill(needs))
			for _, need := range t.Needs {
				if _, ofMend := match(mendTick, need); ofMend {
					all = append(all, need)
				}
			}
			return all
		}
	}
	return t.Needs
}

// reckonedIn are the numbers that a tick had under an edition; nil: those of today.
func (q *quilt) reckonedIn(number int, t *Tick) []Number {
	for _, e := range after(number) {
		if reckon := e.numbers[t.row]; reckon != nil {
			return reckon(q, t.of)
		}
	}
	return nil
}

// reckonedSince tells whether a tick's numbers have been reckoned as they are today since
// an edition. Where no edition says when that began, it was today's.
func (t *Tick) reckonedSince(number int) bool {
	since := Edition()
	for i, e := range editions {
		if e.numbers[t.row] != nil {
			since = i + 1
		}
	}
	return number >= since
}

// standIns are, for an id that is gone, the replacements that it is part of, with the
// names that its pattern holds, in order of editions.
func (q *quilt) standIns(id string) (all []standIn) {
	for _, e := range editions {
		for _, r := range e.replaced {
			for _, pattern := range strings.Fields(r.was) {
				if n, ok := match(pattern, id); ok {
					all = append(all, standIn{q.expand(r.was, n.within(r.is)), q.expand(r.is, n)})
					break
				}
			}
		}
	}
	return all
}

// A standIn is a replacement with its patterns filled in.
type standIn struct{ was, is []string }

// renamed is the id that stands for one of a measure or a step today.
func renamed(id string, of func(edition) map[string]string) string {
	for _, e := range editions {
		for was, is := range of(e) {
			if n, ok := match(was, id); ok {
				id = n.fill(is)
				break
			}
		}
	}
	return id
}

func measuresOf(e edition) map[string]string { return e.measures }
func stepsOf(e edition) map[string]string    { return e.steps }

// match tells whether an id is one of those that a pattern of the tables gives, and the
// names that it holds then. A name ends at the next point or dash.
func match(pattern, id string) (names, bool) {
	before, rest, found := strings.Cut(pattern, "{")
	if !found {
		return names{}, pattern == id
	}
	if !strings.HasPrefix(id, before) {
		return nil, false
	}
	id = id[len(before):]
	name, after, _ := strings.Cut(rest, "}")
	end := strings.IndexAny(id, ".-")
	if end < 0 {
		end = len(id)
	}
	if end == 0 {
		return nil, false
	}
	n, ok := match(after, id[end:])
	if !ok || n[name] != "" && n[name] != id[:end] {
		return nil, false
	}
	return n.with(names{name: id[:end]}), true
}

// repeated are the names that stand for each that a quilt has where they are not known.
var repeated = []struct {
	name  string
	every round
}{{"border", everyBorder}, {"edge", everyEdge}, {"corner", everyCorner}}

// within are the names without those to be repeated that patterns do not hold.
func (n names) within(patterns string) names {
	n = n.with(nil)
	for _, by := range repeated {
		if !strings.Contains(patterns, "{"+by.name+"}") {
			delete(n, by.name)
		}
	}
	return n
}

// expand fills patterns in; a name that is not known stands for each that this quilt has.
func (q *quilt) expand(patterns string, n names) []string {
	var ids []string
	for _, pattern := range strings.Fields(patterns) {
		all := []names{n}
		for _, by := range repeated {
			if !strings.Contains(pattern, "{"+by.name+"}") || n[by.name] != "" {
				continue
			}
			var more []names
			for _, n := range all {
				more = append(more, by.every.repeats(q, n)...)
			}
			all = more
		}
		for _, n := range all {
			ids = append(ids, n.fill(pattern))
		}
	}
	return ids
}

// mendTick is the pattern of the ids that the ticks of mends have (mendstep.go).
const mendTick = "mend.{n}.{k}"

// had tells whether any edition has had a tick in any session.
func had(id string) bool {
	is := func(pattern string) bool {
		n, ok := match(pattern, id)
		return ok && n.possible()
	}
	if is(mendTick) {
		return true
	}
	for row := range rows().came {
		if is(row) {
			return true
		}
	}
	for _, e := range editions {
		for _, r := range e.replaced {
			if slices.ContainsFunc(strings.Fields(r.was), is) {
				return true
			}
		}
	}
	return false
}

// What a mend's id may hold: nobody takes as many ways out, nor has one as many acts.
const maxMends, maxActs = 1000, 40

// possible tells whether names that an id holds are those of a quilt.
func (n names) possible() bool {
	within := func(name string, most int) bool {
		i := n.number(name)
		return n[name] == "" || i >= 1 && i <= most && n[name] == strconv.Itoa(i)
	}
	isEdge := func(e names) bool { return e["edge"] == n["edge"] }
	return within("border", calc.MaxBorders) && within("corner", len(corners)) &&
		within("n", maxMends) && within("k", maxActs) &&
		(n["edge"] == "" || slices.ContainsFunc(everyEdge(nil, nil), isEdge))
}
