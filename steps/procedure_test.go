package steps_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"cornerwise/steps"
	"cornerwise/steps/draw"
)

var noon = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// plans are quilts of every kind that the procedure tells apart.
var plans = map[string]string{
	"one border":        `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"}]}`,
	"one plain border":  `{"center":{"width":"48 1/2","length":"36 1/2"},"borders":[{"cut":"5 1/2"}]}`,
	"unequal bands":     `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"4 1/2","cutTopBottom":"6 1/2"}]}`,
	"two borders":       `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"dark line","cut":"1 1/2"},{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"}]}`,
	"in centimeters":    `{"unit":"cm","center":{"width":"90","length":"120,5"},"borders":[{"cut":"12"}]}`,
	"twelve borders":    `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[` + strings.Repeat(`{"cut":"2","name":"a border with quite a long name indeed"},`, 11) + `{"cut":"3","cutTopBottom":"4"}]}`,
	"a wide allowance":  `{"seam":"1","center":{"width":"20","length":"20"},"borders":[{"cut":"5"}]}`,
	"one way, up":       `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"gulls","cut":"5 1/2","motif":"6","fabric":{"join":"straight","way":"one-way","heads":"up"}}]}`,
	"one way, inwards":  `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"a print with heads","cut":"2"},{"name":"gulls","cut":"5 1/2","fabric":{"way":"one-way","heads":"inwards"}}]}`,
	"joined aslant":     `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","fabric":{"runs":"crosswise"}}]}`,
	"joined straight":   `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","motif":"6","fabric":{"runs":"crosswise","join":"straight"}}]}`,
	"coping on sides":   `{"center":{"width":"60 1/2","length":"80 1/2"},"coping":{"edges":"sides"},"borders":[{"name":"lanterns","cut":"5 1/2","motif":"6"}]}`,
	"coping on top":     `{"center":{"width":"36 1/2","length":"48 1/2"},"coping":{"edges":"topBottom","cut":"2 1/2"},"borders":[{"cut":"5 1/2","stripe":"1 1/8"}]}`,
	"coping in cm":      `{"unit":"cm","center":{"width":"90","length":"121,5"},"coping":{"edges":"sides","cut":"4"},"borders":[{"cut":"12"}]}`,
	"a square, unequal": `{"center":{"width":"30","length":"30"},"borders":[{"cut":"9","cutTopBottom":"1"}]}`,
}

// begun and walkedTo keep what several tests begin with: a Work is never changed.
var (
	firstEdition = steps.Edition()
	begun        = map[string]*steps.Work{}
	walkedTo     = map[walkOf]*steps.Work{}
)

type walkOf struct {
	from *steps.Work
	last string
}

func begin(t testing.TB, plan string) *steps.Work {
	t.Helper()
	if w := begun[plan]; w != nil && steps.Edition() == firstEdition {
		return w
	}
	w, err := steps.Begin(json.RawMessage(plan))
	if err != nil {
		t.Fatalf("Begin(%s): got %v, want a Work", plan, err)
	}
	if steps.Edition() == firstEdition {
		begun[plan] = w
	}
	return w
}

var opCount atomic.Int64 // tests run side by side

// do applies an op that must be taken.
func do(t testing.TB, w *steps.Work, op steps.Op) *steps.Work {
	t.Helper()
	next, _, err := try(w, op)
	if err != nil {
		t.Fatalf("Apply(%+v): got %q, want it taken", op, err)
	}
	return next
}

func try(w *steps.Work, op steps.Op) (*steps.Work, steps.Change, error) {
	n := opCount.Add(1)
	if op.ID == "" {
		op.ID = fmt.Sprint("op-", n)
	}
	return w.Apply(op, noon.Add(time.Duration(n)*time.Second))
}

func tickOp(id string, done bool) steps.Op {
	return steps.Op{Kind: steps.KindTick, Tick: id, Done: &done}
}

// ids are all ticks in the order of work.
func ids(w *steps.Work) []string {
	var out []string
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, t := range step.Ticks {
				out = append(out, t.ID)
			}
		}
	}
	return out
}

func done(w *steps.Work, id string) bool {
	_, t := w.Tick(id)
	return t != nil && t.Done
}

// missing are the open ticks that one needs.
func missing(w *steps.Work, id string) []string {
	_, t := w.Tick(id)
	return slices.DeleteFunc(slices.Clone(t.Needs), func(need string) bool { return done(w, need) })
}

// nextTick is the first open tick of some that can be done; "": none can.
func nextTick(w *steps.Work, of []string) string {
	for _, id := range of {
		if !done(w, id) && len(missing(w, id)) == 0 {
			return id
		}
	}
	return ""
}

// walk does every tick in order up to and with the last id; "" for all.
func walk(t *testing.T, w *steps.Work, last string) *steps.Work {
	t.Helper()
	key := walkOf{w, last}
	if kept := walkedTo[key]; kept != nil {
		return kept
	}
	for _, id := range ids(w) {
		if _, tick := w.Tick(id); !tick.Done {
			w = do(t, w, tickOp(id, true))
		}
		if id == last {
			break
		}
	}
	walkedTo[key] = w
	return w
}

func TestEveryProcedureIsSound(t *testing.T) {
	for name, plan := range plans {
		t.Run(name, func(t *testing.T) {
			w := begin(t, plan)
			seen := map[string]bool{}
			drawn := map[draw.Scene]string{}
			for _, stage := range w.Stages {
				if len(stage.Steps) == 0 {
					t.Errorf("stage %s has no steps", stage.ID)
				}
				for _, step := range stage.Steps {
					if n := len(step.Ticks); n == 0 || n > 9 {
						t.Errorf("step %s has %d ticks, want 1 to 9 on a screen", step.ID, n)
					}
					if seen[step.ID] {
						t.Errorf("two steps are called %s", step.ID)
					}
					seen[step.ID] = true
					for _, tick := range step.Ticks {
						checkTick(t, w, tick, seen)
						seen[tick.ID] = true
						if other := drawn[tick.Scene]; other != "" {
							t.Errorf("%s shows the picture of %s", tick.ID, other)
						}
						drawn[tick.Scene] = tick.ID
					}
				}
			}
		})
	}
}

// checkTick holds a tick to its rules: a command of at most 20 words (our own limit, so that it
// is read at one glance), no braces left over, needs that stand before it in the order of work, a
// look or a measure and a warning before every cut.
func checkTick(t *testing.T, w *steps.Work, tick steps.Tick, before map[string]bool) {
	t.Helper()
	if before[tick.ID] {
		t.Errorf("two ticks are called %s", tick.ID)
	}
	if n := len(strings.Fields(tick.Say)); n == 0 || n > 20 {
		t.Errorf("%s: the command has %d words, want 1 to 20: %q", tick.ID, n, tick.Say)
	}
	told := []string{tick.ID, tick.Label, tick.Title, tick.Say, tick.Why}
	if tick.Why == "" && strings.HasPrefix(tick.ID, "mend.") { // its title tells enough
		told = told[:4]
	}
	for _, words := range told {
		if words == "" || strings.ContainsAny(words, "{}") {
			t.Errorf("%s: %q is empty or has a brace left", tick.ID, words)
		}
	}
	for _, need := range tick.Needs {
		if !before[need] {
			t.Errorf("%s needs %s, which does not stand before it", tick.ID, need)
		}
	}
	if tick.Scene.Kind == "" || tick.Scene.Act == "" {
		t.Errorf("%s has no drawing", tick.ID)
	}
	if tick.Cuts && (len(tick.Needs) == 0 || tick.Caution == nil || tick.Caution.Word != "WARNING") {
		t.Errorf("%s cuts fabric: want a look or a measure before it and a warning beside it", tick.ID)
	}
	for _, n := range tick.Numbers {
		if n.Name == "" || len(n.Figures) == 0 && n.Text == "" {
			t.Errorf("%s: the number %+v has no name or no value", tick.ID, n)
		}
		for _, f := range n.Figures {
			if f.Length.Sign() < 0 || f.Length.Sign() == 0 && !strings.HasPrefix(n.Name, "from the") {
				t.Errorf("%s: %s is %s, want more than 0", tick.ID, n.Name, f.Shown())
			}
		}
	}
}

func TestOneBorderHasSomeHundredTicksInSomeThirtySteps(t *testing.T) {
	w := begin(t, plans["one border"])
	counted := 0
	for _, s := range w.Stages {
		counted += len(s.Steps)
	}
	if _, total := w.Progress(); total < 85 || total > 120 || counted < 25 || counted > 35 {
		t.Errorf("one border: got %d ticks in %d steps, want 85 to 120 in 25 to 35", total, counted)
	}
	var stages []string
	for _, s := range w.Stages {
		stages = append(stages, s.ID)
	}
	if got, want := strings.Join(stages, " "), "square-up cut mark sew miter press"; got != want {
		t.Errorf("stages: got %s, want %s", got, want)
	}
}

func TestEveryProcedureCanBeWalkedToTheEnd(t *testing.T) {
	for name, plan := range plans {
		t.Run(name, func(t *testing.T) {
			w := walk(t, begin(t, plan), "")
			if done, total := w.Progress(); done != total {
				t.Errorf("walked in order: got %d of %d done", done, total)
			}
			for _, stage := range w.Stages {
				for _, step := range stage.Steps {
					if !step.Done {
						t.Errorf("step %s: all ticks are done, but it is not", step.ID)
					}
				}
			}
		})
	}
}

// Following Here alone, as a person does, also leads to the end.
func TestHereLeadsThroughTheWholeWork(t *testing.T) {
	for name, plan := range plans {
		t.Run(name, func(t *testing.T) {
			w := begin(t, plan)
			_, total := w.Progress()
			for range total {
				_, step := w.Step(w.Here)
				var here []string
				for _, tick := range step.Ticks {
					here = append(here, tick.ID)
				}
				next := nextTick(w, here)
				if next == "" {
					t.Fatalf("at %s there is nothing to do", w.Here)
				}
				w = do(t, w, tickOp(next, true))
			}
			if done, _ := w.Progress(); done != total {
				t.Errorf("following here: got %d of %d done", done, total)
			}
		})
	}
}

// Work goes on at the next step that can be done, and from the last one round to the first.
func TestHereGoesRound(t *testing.T) {
	w := walk(t, begin(t, plans["one border"]), "center.pressed")
	for _, c := range []struct{ ticks, here string }{
		{"length.left length.middle", "lengths"},
		{"length.right", "diagonals"},
		{"diagonal.1 diagonal.2", "square-corners"},
		{"square.1.looked square.2.looked square.3.looked square.4.looked", "fabric-1"}, // widths are open
		{"fabric.1.pressed fabric.1.squared", "fabric-1"},
		{"fabric.1.line", "machine"},
		{"machine.noted test.made test.measured", "first-pair"},
		{"pair.chosen", "press-center"},
		{"center.steadied", "widths"},
		{"width.top width.middle width.bottom", "true-up"},
	} {
		for _, id := range strings.Fields(c.ticks) {
			w = do(t, w, tickOp(id, true))
		}
		if w.Here != c.here {
			t.Errorf("after %s work is at %s, want %s", c.ticks, w.Here, c.here)
		}
	}
	if w = do(t, w, tickOp("width.bottom", false)); w.Here != "widths" {
		t.Errorf("opened again: work is at %s, want widths", w.Here)
	}
	w = walk(t, begin(t, plans["one border"]), "")
	if w.Here != "top-diagonals" {
		t.Errorf("all done: work is at %s, want where it ended", w.Here)
	}
}

func TestWhatFabricDemandsAndNoMore(t *testing.T) {
	w := begin(t, plans["one border"])
	refused := func(w *steps.Work, id, why string) {
		t.Helper()
		_, _, err := try(w, tickOp(id, true))
		r, ok := err.(*steps.Refusal)
		if !ok || r.Code != steps.NotYet || len(r.Missing) == 0 {
			t.Errorf("tick %s %s: got %v, want not-yet with what is missing", id, why, err)
		}
	}
	refused(w, "miter.1.trimmed", "before the look")
	refused(w, "cut.1.left.cut", "before it is measured")
	refused(w, "center.trimmed", "before the measures")

	marked := walk(t, w, "pair.chosen")
	refused(marked, "sew.top.pinned", "before the first pair")
	first := marked
	for _, id := range ids(marked) {
		if strings.HasPrefix(id, "sew.left.") || strings.HasPrefix(id, "sew.right.") && id != "sew.right.pressed" {
			first = do(t, first, tickOp(id, true))
		}
	}
	refused(first, "sew.top.pinned", "while one of the first pair is not pressed")
	first = do(t, first, tickOp("sew.right.pressed", true))
	refused(first, "miter.2.folded", "when only one of its edges is sewn")
	for _, act := range []string{"pinned", "sewn", "checked", "pressed"} {
		first = do(t, first, tickOp("sew.top."+act, true))
	}
	// Corners 1 and 2 lie at the top; they can be mitered while the bottom is open.
	for _, corner := range []string{"2", "1"} {
		for _, act := range []string{"folded", "turned", "lined", "pinned", "sewn", "looked", "trimmed"} {
			first = do(t, first, tickOp("miter."+corner+"."+act, true))
		}
	}
	refused(first, "miter.3.folded", "while the bottom edge is open")
	do(t, first, tickOp("press.2.opened", true))
}
