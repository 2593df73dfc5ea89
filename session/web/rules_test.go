package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"cornerwise/session"
	"cornerwise/steps"
)

var record = flag.Bool("record", false, "write testdata/rules anew, by what the server answers")

const rulesDir = "../../testdata/rules"

// A rulesCase is a procedure, and what its state is after one op and another. The
// server made it once; it and the page's script are held to it.
type rulesCase struct {
	Plan    json.RawMessage `json:"plan"`
	Steps   []caseStep      `json:"steps"`
	Corners []caseCorner    `json:"corners"`
	Moments []moment        `json:"moments"`
}

type (
	caseStep struct {
		ID       string        `json:"id"`
		Title    string        `json:"title"`
		Stage    string        `json:"stage"`
		Where    string        `json:"where"`
		Ticks    []caseTick    `json:"ticks"`
		Groups   []caseGroup   `json:"groups"`
		Measures []caseMeasure `json:"measures"`
	}
	caseTick struct {
		ID    string   `json:"id"`
		Title string   `json:"title"`
		Label string   `json:"label"`
		Needs []string `json:"needs"`
		Cuts  bool     `json:"cuts,omitempty"`
		Group string   `json:"group,omitempty"`
	}
	caseGroup struct {
		ID    string `json:"id"`
		Label string `json:"label"`
	}
	caseMeasure struct {
		ID      string         `json:"id"`
		Label   string         `json:"label"`
		Options []steps.Option `json:"options"`
		Tick    string         `json:"tick"`
		Expect  string         `json:"expect,omitempty"`
	}
	caseCorner struct {
		Miter string        `json:"miter"`
		Press string        `json:"press"`
		By    []caseReached `json:"by"`
	}
	caseReached struct {
		Tick string `json:"tick"`
		Name string `json:"name"`
		Word string `json:"word"`
	}
)

// A moment is a few ops, and how the steps stand after them: those that stand otherwise
// than at the moment before.
type moment struct {
	Name    string      `json:"name"`
	Deeds   []deed      `json:"deeds"`
	Steps   []stepNow   `json:"steps"`
	Corners []cornerNow `json:"corners"`
}

type (
	// A deed is an op, the last thing done after it, in words, and where work goes on.
	deed struct {
		Op   json.RawMessage `json:"op"`
		Last string          `json:"last"`
		Here string          `json:"here"`
	}
	stepNow struct {
		ID    string   `json:"id"`
		State string   `json:"state"`
		Word  string   `json:"word"`
		Pick  string   `json:"pick"`
		Ticks []string `json:"ticks"` // "hereon", "tick at work", "locked FIRST", "done for USER USER"
	}
	cornerNow struct {
		Name string `json:"name"`
		Word string `json:"word"`
		Step string `json:"step"`
	}
)

// The page's script shows at once, and without the network, what the server will say.
// Both answer the same recorded cases.
func TestTheScriptsRulesAreTheServers(t *testing.T) {
	if *record {
		recordRules(t)
	}
	files, err := filepath.Glob(filepath.Join(rulesDir, "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases in %s: %v", rulesDir, err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var want rulesCase
		if err := json.Unmarshal(data, &want); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		t.Run(name+", by the server", func(t *testing.T) {
			got := procedureCase(t, want.Plan)
			w := beginCase(t, want.Plan)
			for _, m := range want.Moments {
				now, next := momentOf(t, w, m.Name, opsOf(m))
				got.Moments, w = append(got.Moments, now), next
			}
			got.Moments = onlyNew(got.Moments)
			sameJSON(t, got, want)
		})
		t.Run(name+", by the script", func(t *testing.T) {
			sameJSON(t, onlyNew(answeredByScript(t, file)), want.Moments)
		})
	}
}

// onlyNew leaves out of each moment the steps that stand as they stood before.
func onlyNew(moments []moment) []moment {
	var all []moment
	was := map[string]stepNow{}
	for _, m := range moments {
		steps := m.Steps
		m.Steps = []stepNow{}
		for _, s := range steps {
			if !reflect.DeepEqual(s, was[s.ID]) {
				m.Steps = append(m.Steps, s)
			}
			was[s.ID] = s
		}
		all = append(all, m)
	}
	return all
}

// answeredByScript is what static/rules.js makes of a case.
func answeredByScript(t *testing.T, file string) (moments []moment) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no node found; .ci/test installs it")
		}
		t.Skip("no node found; install nodejs, or run .ci/test")
	}
	cmd := exec.Command(node, filepath.Join(rulesDir, "run.js"), "../../static/rules.js", file)
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	if err := cmd.Run(); err != nil {
		t.Fatalf("%v: %v\n%s", cmd, err, said.String())
	}
	if err := json.Unmarshal(out.Bytes(), &moments); err != nil {
		t.Fatalf("%v: %v", cmd, err)
	}
	return moments
}

// sameJSON shows the lines that differ, at most 40.
func sameJSON(t *testing.T, got, want any) {
	t.Helper()
	a, b := strings.Split(string(inLines(t, got)), "\n"), strings.Split(string(inLines(t, want)), "\n")
	shown := 0
	for i := 0; i < max(len(a), len(b)) && shown < 40; i++ {
		is, should := lineAt(a, i), lineAt(b, i)
		if is != should {
			t.Errorf("line %d: got %s, want %s", i+1, is, should)
			shown++
		}
	}
}

func lineAt(lines []string, i int) string {
	if i < len(lines) {
		return strings.TrimSpace(lines[i])
	}
	return "none"
}

// inLines is JSON with a line for each step, tick, deed, moment and corner.
func inLines(t *testing.T, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	for _, list := range []string{"plan", "steps", "corners", "moments", "deeds"} {
		data = bytes.ReplaceAll(data, []byte(`"`+list+`":`), []byte("\n\""+list+"\":"))
	}
	for _, first := range []string{"id", "op", "miter", "name"} {
		data = bytes.ReplaceAll(data, []byte(`[{"`+first+`"`), []byte("[\n{\""+first+`"`))
		data = bytes.ReplaceAll(data, []byte(`},{"`+first+`"`), []byte("},\n{\""+first+`"`))
	}
	return append(data, '\n')
}

func beginCase(t *testing.T, plan json.RawMessage) *steps.Work {
	t.Helper()
	w, err := steps.Begin(plan)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// procedureCase is a plan's procedure, without moments.
func procedureCase(t *testing.T, plan json.RawMessage) rulesCase {
	w := beginCase(t, plan)
	c := rulesCase{Plan: plan}
	for _, stage := range w.Stages {
		for _, s := range stage.Steps {
			step := caseStep{ID: s.ID, Title: s.Title, Stage: stage.ID, Where: s.Where, Groups: []caseGroup{}, Measures: []caseMeasure{}}
			for _, t := range s.Ticks {
				step.Ticks = append(step.Ticks, caseTick{t.ID, t.Title, t.Label, t.Needs, t.Cuts, t.Group})
			}
			for _, g := range s.Groups {
				step.Groups = append(step.Groups, caseGroup{g.ID, g.Label})
			}
			for _, m := range s.Measures {
				measure := caseMeasure{ID: m.ID, Label: m.Label, Options: m.Options, Tick: m.Tick}
				if m.Expect != nil {
					measure.Expect = m.Expect.Shown()
				}
				step.Measures = append(step.Measures, measure)
			}
			c.Steps = append(c.Steps, step)
		}
	}
	for _, v := range cornersOf(w) {
		corner := caseCorner{Miter: v.Miter, Press: v.Press}
		for _, by := range v.By {
			corner.By = append(corner.By, caseReached{by.Tick, by.Name, by.Word})
		}
		c.Corners = append(c.Corners, corner)
	}
	return c
}

func opsOf(m moment) []json.RawMessage {
	var ops []json.RawMessage
	for _, d := range m.Deeds {
		ops = append(ops, d.Op)
	}
	return ops
}

// momentOf does ops and tells how all stands then, as the page is made.
func momentOf(t *testing.T, w *steps.Work, name string, ops []json.RawMessage) (moment, *steps.Work) {
	t.Helper()
	m := moment{Name: name, Deeds: []deed{}}
	for _, source := range ops {
		var op steps.Op
		if err := json.Unmarshal(source, &op); err != nil {
			t.Fatalf("%s: %s: %v", name, source, err)
		}
		next, _, err := w.Apply(op, time.Time{})
		if err != nil {
			t.Fatalf("%s: %s: %v", name, source, err)
		}
		d := deed{Op: source, Here: next.Here}
		if next.Last != nil {
			d.Last = next.Last.Text
		}
		m.Deeds, w = append(m.Deeds, d), next
	}
	v := newSessionView(session.Snapshot{Work: w}, w.Quilt())
	for _, stage := range v.Stages {
		for _, s := range stage.Steps {
			now := stepNow{ID: s.ID, State: s.State, Word: s.Word(), Pick: s.pick("").ID}
			for _, t := range s.Ticks {
				word := t.mode()
				if v.atWork(t) {
					word += " at work"
				}
				if t.Lock != nil {
					word += " " + t.Lock.Tick
				}
				if users := usersOf(w, t.ID); t.Done && len(users) > 0 {
					word += " for " + strings.Join(users, " ")
				}
				now.Ticks = append(now.Ticks, word)
			}
			m.Steps = append(m.Steps, now)
		}
	}
	for _, c := range v.Corners {
		m.Corners = append(m.Corners, cornerNow{c.State.Name, c.State.Word, c.Step()})
	}
	return m, w
}

// usersOf are the done ticks that need one: for them it is not opened again.
func usersOf(w *steps.Work, tick string) []string {
	open := false
	_, _, err := w.Apply(steps.Op{ID: "users", Kind: steps.KindTick, Tick: tick, Done: &open}, time.Time{})
	var refusal *steps.Refusal
	if errors.As(err, &refusal) {
		return refusal.Missing
	}
	return nil
}

// recordedCases are what is recorded: a plan of testdata/plans, and the moments of its
// work, each by the ops that lead to it.
var recordedCases = []struct {
	plan   string
	scenes []scene
}{
	{"harbour-lanterns", []scene{
		{"nothing is done", these()},
		{"the strips of border 1 are cut", untilTick("cut.1.bottom.cut")},
		{"two seams are sewn", untilTick("sew.right.sewn")},
		{"a tick is opened again", these(`{"op":"a1","kind":"tick","tick":"sew.right.sewn","done":false}`)},
		{"and that is taken back", these(`{"op":"a2","kind":"undo","of":"a1"}`)},
		{"what was noted and measured is told, and what changes nothing is not", these(
			`{"op":"a3","kind":"measure","measure":"look-2","value":"pucker"}`,
			`{"op":"a4","kind":"note","step":"corner-2","text":"The thread runs out"}`,
			`{"op":"a5","kind":"note","step":"corner-2","text":"The thread runs out"}`,
			`{"op":"a6","kind":"tick","tick":"sew.right.sewn","done":true}`,
			`{"op":"a7","kind":"measure","measure":"look-2","value":""}`,
			`{"op":"a8","kind":"note","step":"corner-2","text":""}`,
			`{"op":"a9","kind":"undo","of":"a8"}`)},
		{"work goes on at corner 3, which is locked", these(`{"op":"b1","kind":"here","step":"corner-3"}`)},
		{"work goes on at a step that is done", these(`{"op":"b2","kind":"here","step":"cut-1-sides"}`)},
		{"all seams are sewn, and corner 2 is looked at before corner 1", func(w *steps.Work) []string {
			there := []string{`{"op":"b3","kind":"here","step":"sew-right"}`}
			there = append(there, untilTick("sew.bottom.pressed")(applied(w, there...))...)
			there = append(there, `{"op":"b4","kind":"here","step":"corner-2"}`)
			return append(there, untilTick("miter.2.looked")(applied(w, there...))...)
		}},
		{"corner 2 is trimmed, corner 3 folded", untilTick("miter.3.folded")},
		{"corner 2 is unpicked", these(`{"op":"b5","kind":"redo","tick":"miter.2.sewn","why":"unpicked"}`)},
		{"and that is taken back", these(`{"op":"b6","kind":"undo","of":"b5"}`)},
		{"all is done", untilTick("")},
	}},
	{"reed-bank", []scene{
		{"nothing is done", these()},
		{"what is measured does its tick", these(
			`{"op":"m0","kind":"tick","tick":"center.pressed","done":true}`,
			`{"op":"m1","kind":"measure","measure":"width-top","value":"92.7 cm","done":true}`,
			`{"op":"m2","kind":"measure","measure":"length-left","value":"123.2 cm","done":true}`,
			`{"op":"m3","kind":"undo","of":"m2"}`,
			`{"op":"m4","kind":"measure","measure":"width-middle","value":"92.7 cm"}`,
			`{"op":"m5","kind":"measure","measure":"width-middle","value":"92.7 cm","done":true}`,
			`{"op":"m6","kind":"measure","measure":"width-middle","value":"","done":true}`)},
		{"several ticks are taken at once", these(
			`{"op":"g1","kind":"tick","ticks":["length.left","length.middle","length.right"],"done":true}`,
			`{"op":"g2","kind":"tick","ticks":["diagonal.2","center.steadied"],"done":true}`,
			`{"op":"g3","kind":"tick","ticks":["diagonal.1","diagonal.2"],"done":true}`,
			`{"op":"g4","kind":"tick","ticks":["length.left","length.middle"],"done":false}`,
			`{"op":"g5","kind":"undo","of":"g4"}`,
			`{"op":"g6","kind":"tick","ticks":["length.left"],"done":true}`)},
		{"something is put off, and comes back before its stage is left", func(w *steps.Work) []string {
			there := []string{`{"op":"l1","kind":"here","step":"square-corners"}`,
				`{"op":"l2","kind":"later","tick":"square.2.looked","why":"the big ruler is lent out"}`,
				`{"op":"l3","kind":"later","tick":"width.bottom","why":"the tape is gone"}`,
				`{"op":"l4","kind":"tick","tick":"square.1.looked","done":true}`,
				`{"op":"l5","kind":"tick","tick":"square.3.looked","done":true}`,
				`{"op":"l6","kind":"tick","tick":"square.4.looked","done":true}`,
				`{"op":"l7","kind":"later","tick":"square.2.looked"}`,
				`{"op":"l8","kind":"undo","of":"l7"}`,
				`{"op":"l9","kind":"tick","tick":"width.bottom","done":true}`}
			return there
		}},
		{"half is done", untilTick("sew.left.sewn")},
		{"the cut of a strip is done over", these(`{"op":"a1","kind":"redo","tick":"cut.1.left.cut","why":"cut too short"}`)},
		{"all is done", untilTick("")},
	}},
}

// A scene is a moment to be recorded, and the ops that lead to it.
type scene struct {
	name string
	ops  func(w *steps.Work) []string
}

// untilTick ticks what can be done, from where work goes on, up to a tick and with it;
// up to the end where that is "".
func untilTick(last string) func(*steps.Work) []string {
	return func(w *steps.Work) (ops []string) {
		for {
			t := firstOpen(w)
			if t == "" && last != "" {
				panic("no tick to do before " + last)
			}
			if t == "" {
				return ops
			}
			op := fmt.Sprintf(`{"op":"to %s %d","kind":"tick","tick":%q,"done":true}`, last, len(ops), t)
			if ops, w = append(ops, op), applied(w, op); t == last {
				return ops
			}
		}
	}
}

func firstOpen(w *steps.Work) string {
	_, here := w.Step(w.Here)
	for _, t := range here.Ticks {
		if !t.Done && lockOf(w, &t) == nil {
			return t.ID
		}
	}
	return ""
}

func these(ops ...string) func(*steps.Work) []string {
	return func(*steps.Work) []string { return ops }
}

// applied is the work after ops.
func applied(w *steps.Work, ops ...string) *steps.Work {
	for _, source := range ops {
		var op steps.Op
		if err := json.Unmarshal([]byte(source), &op); err != nil {
			panic(err)
		}
		next, _, err := w.Apply(op, time.Time{})
		if err != nil {
			panic(err)
		}
		w = next
	}
	return w
}

// recordRules writes the cases by what the server answers today.
func recordRules(t *testing.T) {
	for _, rec := range recordedCases {
		plan, err := os.ReadFile(filepath.Join("../../testdata/plans", rec.plan+".json"))
		if err != nil {
			t.Fatal(err)
		}
		c, w := procedureCase(t, plan), beginCase(t, plan)
		for _, scene := range rec.scenes {
			var ops []json.RawMessage
			for _, op := range scene.ops(w) {
				ops = append(ops, json.RawMessage(op))
			}
			now, next := momentOf(t, w, scene.name, ops)
			c.Moments, w = append(c.Moments, now), next
		}
		c.Moments = onlyNew(c.Moments)
		if err := os.WriteFile(filepath.Join(rulesDir, rec.plan+".json"), inLines(t, c), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
