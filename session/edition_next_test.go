package session_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"cornerwise/session"
	"cornerwise/steps"
)

// nextEdition is what the test below changes in the source of steps: an edition to come,
// with some of everything that an edition may bring.
var nextEdition = []struct{ file, was, is string }{
	{"edition.go", "\n}\n\nfunc rowsOf", "\n\t{" + `
		added: []string{"mark.{edge}.looked", "top.labelled"},
		replaced: []replacement{
			{"center.pressed", "center.behind center.front"},
			{"mark.dot.1 mark.dot.2 mark.dot.3 mark.dot.4", "mark.dots"},
			{"press.{corner}.opened", "press.{corner}.spread"},
		},
		needs:   map[string]string{"sew.{edge}.sewn": "sew.{edge}.pinned"},
		numbers: map[string]reckoning{
			"cut.{border}.{edge}.cut":   func(q *quilt, n names) []Number { return q.stripOf1(n) },
			"cut.{border}.{edge}.ready": func(q *quilt, n names) []Number { return q.stripOf1(n) },
			"cut.{border}.{edge}.measured": func(q *quilt, n names) []Number { return q.stripOf1(n) },
			"mark.{edge}.ends": func(q *quilt, n names) []Number { return []Number{q.toEnd(n)} },
		},
		measures: map[string]string{"width-top": "upper-width", "cut-{border}-{edge}-length": "long-{border}-{edge}"},
		steps:    map[string]string{"widths": "across"},
	},
}

func rowsOf`},
	// A row that others need, and one at the very end that nothing needs.
	{"mark.go", "\t{\n\t\tid: \"dots\"", `	{
		id: "strip-looks", title: "A look at the strips",
		ticks: []tickRows{{everyEdge, []tickRow{{
			id: "mark.{edge}.looked", label: "{edge} strip looked at", title: "Strip: {edge} look",
			say: "Look at the marks of the {edge} strip.", why: "So that no tail is short.",
			needs: "mark.{edge}.ends", number: "toEnd", kind: "strip", act: "ends",
		}}}},
	},
	{
		id: "dots"`},
	{"sew.go", `"pair.chosen mark.{edge}.ends `, `"pair.chosen mark.{edge}.looked mark.{edge}.ends `},
	{"press.go", "\t{\n\t\tid: \"top-widths\"", `	{
		id: "label", title: "A label",
		ticks: []tickRows{{nil, []tickRow{{
			id: "top.labelled", label: "Label sewn on", title: "Sew a label on",
			say: "Sew the label on.", why: "So that it is known whose it is.",
			needs: "press.*.front", kind: "top", act: "widths",
		}}}},
	},
	{
		id: "top-widths"`},
	// One tick by two, four by one, one by another.
	{"squareup.go", `			id: "center.pressed", label: "Center pressed", title: "Press the center",`, `			id: "center.behind", label: "Center pressed from behind", title: "Press it from behind",
			say: "Press the center from the back.", why: "So that it lies flat.",
			caution: "iron", number: "center", kind: "center", act: "press",
		}, {
			id: "center.front", label: "Center pressed from the front", title: "Press it from the front", needs: "center.behind",`},
	{"squareup.go", `needs: "center.pressed"`, `needs: "center.front"`},
	{"squareup.go", `needs:  "center.pressed"`, `needs:  "center.front"`},
	{"squareup.go", `needs:   "center.pressed"`, `needs:   "center.front"`},
	{"mark.go", "everyCorner, []tickRow{{\n\t\t\tid: \"mark.dot.{corner}\"", "nil, []tickRow{{\n\t\t\tid: \"mark.dots\""},
	{"sew.go", "mark.dot.{cornerA} mark.dot.{cornerB}", "mark.dots"},
	{"press.go", `"press.{corner}.opened"`, `"press.{corner}.spread"`},
	// Another need for what is there already.
	{"sew.go", "needs:   \"sew.{edge}.pinned\"", "needs:   \"sew.{edge}.pinned mark.{edge}.middle\""},
	// Other names for a measure and a step.
	{"squareup.go", `{id: "width-top",`, `{id: "upper-width",`},
	{"settle.go", `"width-top"`, `"upper-width"`},
	{"finding.go", `Widths:    t.three(prefix+"width-", "top", "middle", "bottom")`,
		`Widths:    [3]calc.Length{t.length(prefix + "upper-width"), t.length(prefix + "width-middle"), t.length(prefix + "width-bottom")}`},
	{"squareup.go", `id: "widths",`, `id: "across",`},
	{"cut.go", `id: "cut-{border}-{edge}-length"`, `id: "long-{border}-{edge}"`},
	{"found_strip.go", `"cut-{border}-{edge}-length"`, `"long-{border}-{edge}"`},
	// Numbers reckoned otherwise: what was cut, and what was marked.
	{"number.go", "func (q *quilt) strip(n names) []Number {\n", `func (q *quilt) strip(n names) []Number {
	longer := q.stripOf1(n)
	long := longer[0].Figures[1]
	long.Length = long.Length.Add(calc.Of(1, 2, calc.Inch))
	longer[0].Figures = []calc.Figure{longer[0].Figures[0], long}
	return longer
}

func (q *quilt) stripOf1(n names) []Number {
`},
	{"number.go", "var numbers = map[string]reckoning{\n", "var numbers = map[string]reckoning{\n\t\"toEndAnew\": func(q *quilt, n names) []Number {\n\t\treturn []Number{{Name: \"middle to end\", Figures: one(q.nearest(calc.Of(11, 1, calc.Inch)))}}\n\t},\n"},
	{"mark.go", `number: "toEnd", kind: "strip", act: "ends"`, `number: "toEndAnew", kind: "strip", act: "ends"`},
	// Strips are laid otherwise: what was joined is laid in one, and the other way round.
	{"round.go", `return len(q.pieces(n.number("border"), n["edge"])) > 1`, `return len(q.pieces(n.number("border"), n["edge"])) == 1`},
}

// A store that today's program made is opened by a program with another edition, and its
// recordings are imported there: nothing that was done is open without a reason.
func TestANextEditionOpensNothing(t *testing.T) {
	withoutRace(t)
	if os.Getenv("CORNERWISE_NEXT_EDITION") != "" || testing.Short() {
		t.Skip("it builds the tests anew, with other tables")
	}
	t.Parallel()
	folder := t.TempDir()
	store := filepath.Join(folder, "cornerwise.db")
	s, err := session.Open(store, yearsOn().now)
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]string{}
	eachRecording(t, func(t *testing.T, _ int, r recording) {
		skipTwelve(t, os.Getenv("CI") != "")
		head, err := s.Import(ctx, bytes.NewReader(r.Export))
		if err != nil {
			t.Fatal(err)
		}
		_, name, _ := strings.Cut(t.Name(), "/") // 1/one-border-half
		ids[name] = head.ID
	})
	names, err := json.Marshal(ids)
	if err := errors.Join(err, s.Close(), os.WriteFile(store+".ids", names, 0o644)); err != nil {
		t.Fatal(err)
	}
	overlay := struct{ Replace map[string]string }{map[string]string{}}
	sources := map[string]string{}
	for _, change := range nextEdition {
		if sources[change.file] == "" {
			data, err := os.ReadFile(filepath.Join("..", "steps", change.file))
			if err != nil {
				t.Fatal(err)
			}
			sources[change.file] = string(data)
		}
		if !strings.Contains(sources[change.file], change.was) {
			t.Fatalf("steps/%s has no %q to change any more", change.file, change.was)
		}
		sources[change.file] = strings.ReplaceAll(sources[change.file], change.was, change.is)
	}
	for name, source := range sources {
		path, err := filepath.Abs(filepath.Join("..", "steps", name))
		if err != nil {
			t.Fatal(err)
		}
		overlay.Replace[path] = filepath.Join(folder, name)
		if err := os.WriteFile(overlay.Replace[path], []byte(source), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	data, err := json.Marshal(overlay)
	if err != nil {
		t.Fatal(err)
	}
	list := filepath.Join(folder, "overlay.json")
	if err := os.WriteFile(list, data, 0o644); err != nil {
		t.Fatal(err)
	}
	run := exec.Command("go", "test", "-count=1", "-overlay", list, "-run",
		"^(TestEveryRecordedSessionIsAsItWas|TestARecordedSessionGoesOnAndIsTakenBack|TestNoTickIsGoneWithoutAWord|TestTheNextEdition)$", ".")
	run.Env = append(os.Environ(), "CORNERWISE_NEXT_EDITION="+store,
		fmt.Sprintf("CORNERWISE_THIS_EDITION=%d", steps.Edition()))
	if out, err := run.CombinedOutput(); err != nil {
		lines := strings.SplitAfter(string(out), "\n")
		t.Errorf("with the next edition: %v\n%s", err, strings.Join(lines[:min(len(lines), 40)], ""))
	}
}

// TestTheNextEdition runs in the program of the next edition only.
func TestTheNextEdition(t *testing.T) {
	path := os.Getenv("CORNERWISE_NEXT_EDITION")
	if path == "" {
		t.Skip("only with the tables of the next edition")
	}
	before, err := strconv.Atoi(os.Getenv("CORNERWISE_THIS_EDITION"))
	if err != nil || steps.Edition() != before+1 {
		t.Fatalf("the edition is %d after %d, %v; want the next", steps.Edition(), before, err)
	}
	recorded := func(name string) string { return fmt.Sprintf("%d/%s", before, name) }
	s := open(t, path, yearsOn().now)
	var ids map[string]string
	data, err := os.ReadFile(path + ".ids")
	if err := errors.Join(err, json.Unmarshal(data, &ids)); err != nil {
		t.Fatal(err)
	}
	heads, _, err := s.List(10000, "", false)
	if err != nil || len(heads) < len(stories) {
		t.Fatalf("List = %d heads, %v; want all recordings", len(heads), err)
	}
	for _, head := range heads {
		w := get(t, s, head.ID).Work
		if done, total := w.Progress(); done != head.Done || total != head.Total {
			t.Errorf("%s: the first page says %d of %d, the session %d of %d", head.Title, head.Done, head.Total, done, total)
		}
		if w.Edition() > before {
			t.Errorf("%s: it was begun under edition %d, want %d at most", head.Title, w.Edition(), before)
		}
	}

	t.Run("what was put down goes on by the new needs", func(t *testing.T) {
		w := get(t, s, ids[recorded("one-border-half")]).Work
		if _, tick := w.Tick("mark.top.looked"); tick == nil || !tick.New || tick.Passed || tick.Done {
			t.Errorf("mark.top.looked is %+v, want open, new and counted: the top edge is not pinned yet", tick)
		}
		if _, tick := w.Tick("mark.left.looked"); !tick.New || !tick.Passed {
			t.Errorf("mark.left.looked is %+v, want passed: the left edge is sewn", tick)
		}
		for _, id := range []string{"center.behind", "center.front", "mark.dots"} {
			if _, tick := w.Tick(id); !tick.Done {
				t.Errorf("%s is open, want it to count as done", id)
			}
		}
	})
	t.Run("a new op is asked for the new needs", func(t *testing.T) {
		id := ids[recorded("one-border-half")]
		_, err := s.Do(ctx, id, tick("too soon", "sew.right.pinned", true))
		if r, ok := err.(*steps.Refusal); !ok || r.Code != steps.NotYet || len(r.Missing) != 1 || r.Missing[0] != "mark.right.looked" {
			t.Errorf("pinning the right edge: %v, want not-yet for mark.right.looked alone", err)
		}
		do(t, s, id, tick("first", "mark.right.looked", true))
		do(t, s, id, tick("then", "sew.right.pinned", true))
		entries := history(t, s, id)
		if e := entries[len(entries)-1]; e.Edition != 0 {
			t.Errorf("a second op of today names edition %d, want none", e.Edition)
		}
		if e := entries[len(entries)-2]; e.Edition != before+1 {
			t.Errorf("the first op of today names edition %d, want %d", e.Edition, before+1)
		}
	})
	t.Run("a redo of today opens by the needs of today", func(t *testing.T) {
		id := ids[recorded("past-the-dot")]
		do(t, s, id, steps.Op{ID: "redo", Kind: steps.KindRedo, Tick: "mark.left.middle", Why: "the chalk rubbed off"})
		w := get(t, s, id).Work
		for _, gone := range []string{"mark.left.ends", "sew.left.pinned", "sew.left.sewn"} {
			if _, tick := w.Tick(gone); tick.Done {
				t.Errorf("%s is done on top of a middle that is open", gone)
			}
		}
		if _, tick := w.Tick("mark.left.looked"); tick.Passed {
			t.Error("mark.left.looked is passed, want it counted now that its edge is to be sewn again")
		}
	})
}
