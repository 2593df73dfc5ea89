package session_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"cornerwise/session"
	"cornerwise/steps"
)

// worked is a session with some of everything done.
func worked(t testing.TB, s *session.Store) session.Snapshot {
	t.Helper()
	id := create(t, s).ID
	for n := range 20 {
		ready, _, _ := sortTicks(get(t, s, id).Work)
		do(t, s, id, tick(fmt.Sprint("tick ", n), ready[0], true))
	}
	_, _, done := sortTicks(get(t, s, id).Work)
	do(t, s, id, steps.Op{ID: "redo", Kind: steps.KindRedo, Tick: done[0], Why: "the edge leaned"})
	do(t, s, id, note("note", get(t, s, id).Work, "thread 50 <cotton> & a “sharp” needle"))
	do(t, s, id, steps.Op{ID: "undo", Kind: steps.KindUndo, Of: "note"})
	do(t, s, id, steps.Op{ID: "plan", Kind: steps.KindPlan, Plan: otherPlan})
	return get(t, s, id)
}

func TestImportTakesAnExportBack(t *testing.T) {
	from := newStore(t)
	was := worked(t, from)
	data, err := from.Export(was.ID)
	if err != nil {
		t.Fatalf("Export: %v", err)
	}
	var form struct{ Cornerwise int }
	if err := json.Unmarshal(data, &form); err != nil || form.Cornerwise != 1 {
		t.Errorf("Export has \"cornerwise\": %d, %v, want 1", form.Cornerwise, err)
	}
	for name, to := range map[string]*session.Store{"another store": newStore(t), "the same store": from} {
		head, err := to.Import(ctx, bytes.NewReader(data))
		if err != nil {
			t.Fatalf("Import into %s: %v", name, err)
		}
		is := get(t, to, head.ID)
		if is.Head != head || head.ID == was.ID {
			t.Errorf("Import into %s = %+v, Get = %+v, want them equal and a new id", name, head, is.Head)
		}
		if is.Named != 0 {
			t.Errorf("Import into %s tells the device from revision %d on, want nobody to know yet", name, is.Named)
		}
		if is.Head.ID, is.Head.Named = was.ID, was.Named; is.Head != was.Head {
			t.Errorf("Import into %s = %+v, want all but the id of %+v", name, is.Head, was.Head)
		}
		differ(t, "the imported state", state(t, is.Work), state(t, was.Work))
		differ(t, "the imported history", fmt.Sprintf("%+v", plain(t, to, head.ID)), fmt.Sprintf("%+v", plain(t, from, was.ID)))
		if rev := do(t, to, head.ID, note("note", is.Work, "thread")); rev >= is.Rev {
			t.Errorf("an op that the import brought gets revision %d, want the one it had", rev)
		}
	}
}

func plain(t *testing.T, s *session.Store, id string) string {
	data, err := json.Marshal(history(t, s, id))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestImportRefuses(t *testing.T) {
	s := newStore(t)
	data, err := s.Export(worked(t, s).ID)
	if err != nil {
		t.Fatal(err)
	}
	before, _, _ := s.List(100, "", false)
	// changed is the export with its decoded form changed.
	changed := func(change func(form map[string]any, history []any)) string {
		var form map[string]any
		if err := json.Unmarshal(data, &form); err != nil {
			t.Fatal(err)
		}
		change(form, form["history"].([]any))
		out, _ := json.Marshal(form)
		return string(out)
	}
	op := func(h []any, n int) map[string]any { return h[n].(map[string]any) }
	for name, c := range map[string]struct{ data, says string }{
		"nothing":             {"", "no exported session"},
		"no JSON":             {"Harbour lanterns", "no exported session"},
		"another JSON":        {`{"title": "Harbour lanterns"}`, "no exported session"},
		"a list":              {`[]`, "no exported session"},
		"null":                {`null`, "no exported session"},
		"a cut file":          {string(data[:len(data)-10]), "no exported session"},
		"a file and more":     {string(data) + "{}", "no exported session"},
		"a newer form":        {changed(func(f map[string]any, _ []any) { f["cornerwise"], f["pictures"] = 2, "x" }), "newer program"},
		"no version":          {changed(func(f map[string]any, _ []any) { delete(f, "cornerwise") }), "no exported session"},
		"an unknown field":    {changed(func(f map[string]any, _ []any) { f["pictures"] = 1 }), "pictures"},
		"no history":          {changed(func(f map[string]any, _ []any) { delete(f, "history") }), "no exported session"},
		"an empty history":    {changed(func(f map[string]any, _ []any) { f["history"] = []any{} }), "empty"},
		"a history of words":  {changed(func(f map[string]any, _ []any) { f["history"] = "long" }), "can't be read"},
		"an unknown op field": {changed(func(_ map[string]any, h []any) { op(h, 3)["photo"] = "x" }), "photo"},
		"no plan first":       {changed(func(_ map[string]any, h []any) { op(h, 0)["kind"] = "note" }), "begin with the plan"},
		"a plan that can't be": {changed(func(_ map[string]any, h []any) { op(h, 0)["plan"] = map[string]any{} }),
			"Op 1 of the history can't have been taken"},
		"a gap":                    {changed(func(f map[string]any, h []any) { f["history"] = append(h[:2:2], h[3:]...) }), "has the revision 4"},
		"a time running back":      {changed(func(_ map[string]any, h []any) { op(h, 5)["at"] = "2020-01-01T00:00:00Z" }), "Op 6 of the history is earlier"},
		"a time before time":       {changed(func(_ map[string]any, h []any) { op(h, 0)["at"] = "1823-01-01T00:00:00Z" }), "earlier"},
		"a time to come":           {changed(func(_ map[string]any, h []any) { op(h, len(h)-1)["at"] = "3026-01-01T00:00:00Z" }), "future"},
		"an op id twice":           {changed(func(_ map[string]any, h []any) { op(h, 5)["op"] = op(h, 4)["op"] }), "twice"},
		"an op without id":         {changed(func(_ map[string]any, h []any) { op(h, 5)["op"] = "" }), "no id"},
		"a plan without id":        {changed(func(_ map[string]any, h []any) { op(h, 0)["op"] = "" }), "no id"},
		"an endless id":            {changed(func(_ map[string]any, h []any) { op(h, 0)["op"] = strings.Repeat("x", 40000) }), "too long"},
		"a later edition":          {changed(func(_ map[string]any, h []any) { op(h, 2)["edition"] = steps.Edition() + 1 }), "newer program"},
		"no edition":               {changed(func(_ map[string]any, h []any) { op(h, 2)["edition"] = -1 }), "older edition"},
		"a border too many":        {changed(func(_ map[string]any, h []any) { op(h, 2)["tick"] = "cut.13.left.cut" }), "Op 3 of the history can't have been taken"},
		"an edge that is not":      {changed(func(_ map[string]any, h []any) { op(h, 2)["tick"] = "cut.1.inner.cut" }), "Op 3 of the history can't have been taken"},
		"a fifth corner":           {changed(func(_ map[string]any, h []any) { op(h, 2)["tick"] = "mark.dot.5" }), "Op 3 of the history can't have been taken"},
		"a version of many digits": {strings.Replace(string(data), `"cornerwise":1`, `"cornerwise":1`+strings.Repeat("0", 60000), 1), "no exported session"},
		"a time of many words":     {changed(func(_ map[string]any, h []any) { op(h, 2)["at"] = strings.Repeat("long ago ", 6000) }), "can't be read"},
		"a field with a long name": {changed(func(_ map[string]any, h []any) { op(h, 2)[strings.Repeat("x", 60000)] = 1 }), "unknown field"},
		"work on nothing":          {changed(func(_ map[string]any, h []any) { op(h, 2)["tick"] = "no.such" }), "Op 3 of the history can't have been taken"},
	} {
		head, err := s.Import(ctx, bytes.NewReader([]byte(c.data)))
		var refusal *steps.Refusal
		if !errors.As(err, &refusal) || refusal.Code != session.BadImport || !strings.Contains(refusal.Message, c.says) {
			t.Errorf("Import of %s = %+v, %v, want a refusal with %q", name, head, err, c.says)
			continue
		}
		if !strings.HasSuffix(refusal.Message, ".") || len(refusal.Message) > 400 {
			t.Errorf("Import of %s: %d bytes, %.500q; want a short sentence", name, len(refusal.Message), refusal.Message)
		}
	}
	if after, _, _ := s.List(100, "", false); fmt.Sprint(after) != fmt.Sprint(before) {
		t.Errorf("after refused imports the list is %+v, want %+v", after, before)
	}
}

// counted is a reader that knows how much was read of it.
type counted struct {
	from io.Reader
	n    int
}

func (c *counted) Read(data []byte) (int, error) {
	n, err := c.from.Read(data)
	c.n += n
	return n, err
}

// What is wrong is found out at once, however much follows it.
func TestAnImportIsReadNoFurtherThanToItsFirstFault(t *testing.T) {
	s := newStore(t)
	head := `{"cornerwise": 1, "history": [`
	first := `{"rev": 1, "at": "2026-01-01T00:00:00Z", "op": "a", "kind": "plan", "plan": {"center": {"width": "9", "length": "9"}, "borders": [{"cut": "1"}]}}`
	for name, c := range map[string]struct{ begins, goesOn, says string }{
		"empty ops":           {head + "{}", ",{}", "Op 1 of the history has the revision 0"},
		"blanks before an op": {head, " ", "more than 65536 bytes"},
		"blanks after an op":  {head + first, " ", "more than 65536 bytes"},
		"an endless note":     {head + first + `, {"rev": 2, "text": "`, "x", "more than 65536 bytes"},
		"an endless name":     {head + first + `, {"`, "x", "more than 65536 bytes"},
		"an endless head":     {`{"cornerwise": 1, "session": {"title": "`, "x", "more than 65536 bytes"},
		"an endless field":    {`{"`, "x", "more than 65536 bytes"},
		"lists in lists":      {head + first + ",", "[", "can't be read"},
		"the same op":         {head + first, "," + first, "has the revision 1"},
	} {
		from := &counted{from: strings.NewReader(c.begins + strings.Repeat(c.goesOn, 8<<20/len(c.goesOn)))}
		_, err := s.Import(ctx, from)
		var refusal *steps.Refusal
		if !errors.As(err, &refusal) || !strings.Contains(refusal.Message, c.says) && name != "lists in lists" {
			t.Errorf("%s: Import: %v, want a refusal with %q", name, err, c.says)
		}
		if from.n > 4*steps.MaxOp {
			t.Errorf("%s: %d bytes were read, want it refused before that", name, from.n)
		}
	}
	broken := errors.New("the line broke")
	if _, err := s.Import(ctx, io.MultiReader(strings.NewReader(head+first), iotest.ErrReader(broken))); !errors.Is(err, broken) {
		t.Errorf("a line that breaks: Import: %v, want that error", err)
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if _, err := s.Import(stopped, strings.NewReader(head+first+"]}")); !errors.Is(err, context.Canceled) {
		t.Errorf("a request that ended: Import: %v, want that it was canceled", err)
	}
}

func FuzzImport(f *testing.F) {
	s := newStore(f)
	data, err := s.Export(worked(f, s).ID)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Add([]byte(`{"cornerwise": 1, "session": {}, "history": []}`))
	f.Add([]byte(`{"cornerwise": 1, "history": [{"rev": 1, "at": "2026-01-01T00:00:00Z", "op": "a", "kind": "plan", "plan": {"title": "x", "center": {"width": "1", "length": "1"}, "borders": [{"cut": "1"}]}}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		head, err := s.Import(ctx, bytes.NewReader(data))
		var refusal *steps.Refusal
		switch {
		case err == nil:
			again, err := s.Export(head.ID)
			if err != nil {
				t.Fatalf("Export of what was imported: %v", err)
			}
			if _, err := s.Import(ctx, bytes.NewReader(again)); err != nil {
				t.Fatalf("Import of what was exported: %v", err)
			}
			differ(t, "the imported state", state(t, get(t, s, head.ID).Work), state(t, foldPlain(t, history(t, s, head.ID))))
		case !errors.As(err, &refusal) || refusal.Code != session.BadImport:
			t.Errorf("Import: %v, want a refusal %q", err, session.BadImport)
		}
	})
}
