package session_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"testing"

	"cornerwise/session"
	"cornerwise/steps"
)

// along is the file of all quilts of a store.
func along(t testing.TB, s *session.Store) []byte {
	t.Helper()
	var file bytes.Buffer
	if err := s.AlongTo(&file); err != nil {
		t.Fatalf("AlongTo: %v", err)
	}
	return file.Bytes()
}

// takeIn takes a file in, which must go well, and tells in short what became of it.
func takeIn(t testing.TB, s *session.Store, file []byte) string {
	t.Helper()
	took, err := s.TakeIn(ctx, bytes.NewReader(file))
	if err != nil {
		t.Fatalf("TakeIn: %v", err)
	}
	return inShort(took)
}

func inShort(t session.TakenIn) string {
	said := fmt.Sprintf("added %d, further %d, apart %d, here %d, binned %d, unread %d", len(t.Added), len(t.Further),
		len(t.Apart), len(t.Here), len(t.Binned), len(t.Unread)+t.More)
	if t.Cut {
		said += ", cut"
	}
	return said
}

// All quilts come along as they are, and once: what is here already is left out.
func TestAllQuiltsAreTakenAlong(t *testing.T) {
	from, to := newStore(t), newStore(t)
	was := worked(t, from)
	create(t, from)
	left := create(t, from)
	if err := from.Bin(ctx, left.ID); err != nil {
		t.Fatal(err)
	}
	own := create(t, to)
	file := along(t, from)
	if got := takeIn(t, to, file); got != "added 2, further 0, apart 0, here 0, binned 0, unread 0" {
		t.Errorf("at first: %s", got)
	}
	if bytes.Contains(file, []byte(left.ID)) {
		t.Error("what is in the bin went along")
	}
	heads, _, err := to.List(10, "", false)
	if err != nil || len(heads) != 3 || !slices.ContainsFunc(heads, func(h session.Head) bool { return h.ID == own.ID }) {
		t.Errorf("after it there are %v, %v, want two more and its own", heads, err)
	}
	for _, h := range heads {
		if h.Rev == was.Rev {
			differ(t, "the quilt that came along", state(t, get(t, to, h.ID).Work), state(t, was.Work))
			h.ID, h.Named = was.ID, was.Named
			if h != was.Head {
				t.Errorf("its head is %+v, want %+v", h, was.Head)
			}
		}
	}
	const again = "added 0, further 0, apart 0, here 2, binned 0, unread 0"
	if got := takeIn(t, to, file); got != again {
		t.Errorf("once more: %s", got)
	}
	if got := takeIn(t, from, file); got != again {
		t.Errorf("where it comes from: %s", got)
	}
	if got := takeIn(t, from, along(t, to)); got != "added 1, further 0, apart 0, here 2, binned 0, unread 0" {
		t.Errorf("back again: %s, want the one that was there only", got)
	}
}

// A quilt goes to another computer, goes on there, and comes back; or it goes on in both.
func TestAQuiltGoesOnElsewhereAndComesBack(t *testing.T) {
	home, away := newStore(t), newStore(t)
	id := create(t, home).ID
	takeIn(t, away, along(t, home))
	heads, _, _ := away.List(1, "", false)
	there := heads[0].ID
	ready, _, _ := sortTicks(get(t, away, there).Work)
	do(t, away, there, tick("there", ready[0], true))

	if got := takeIn(t, away, along(t, home)); got != "added 0, further 0, apart 0, here 1, binned 0, unread 0" {
		t.Errorf("an earlier state comes: %s, want that it is left out", got)
	}
	file := along(t, away)
	if got := takeIn(t, home, file); got != "added 1, further 1, apart 0, here 0, binned 0, unread 0" {
		t.Errorf("it comes back further on: %s", got)
	}
	if head, err := home.Head(id); err != nil || head.Binned.IsZero() {
		t.Errorf("the earlier state: %+v, %v, want it in the bin", head, err)
	}
	if got := takeIn(t, home, file); got != "added 0, further 0, apart 0, here 1, binned 0, unread 0" {
		t.Errorf("the same once more: %s", got)
	}
	heads, _, _ = home.List(1, "", false)
	back := heads[0].ID
	do(t, home, back, note("here", get(t, home, back).Work, "went on at home"))
	do(t, away, there, note("there too", get(t, away, there).Work, "went on away"))
	if got := takeIn(t, home, along(t, away)); got != "added 1, further 0, apart 1, here 0, binned 0, unread 0" {
		t.Errorf("it went on in both: %s, want both", got)
	}
	if heads, _, _ := home.List(10, "", false); len(heads) != 2 {
		t.Errorf("there are %d quilts, want both", len(heads))
	}
	if err := home.Bin(ctx, back); err != nil {
		t.Fatal(err)
	}
	other := newStore(t)
	takeIn(t, other, along(t, away))
	heads, _, _ = other.List(1, "", false)
	other.Bin(ctx, heads[0].ID)
	if got := takeIn(t, other, along(t, away)); got != "added 0, further 0, apart 0, here 0, binned 1, unread 0" {
		t.Errorf("it is in the bin: %s, want it left there", got)
	}
}

// Whoever looks meanwhile, and a start after the power went, sees one of the two states.
func TestAQuiltThatComesBackIsThereOnce(t *testing.T) {
	home, away := newStore(t), newStore(t)
	create(t, home)
	takeIn(t, away, along(t, home))
	heads, _, _ := away.List(1, "", false)
	there := heads[0].ID
	for n := range 10 {
		do(t, away, there, note(fmt.Sprint("there ", n), get(t, away, there).Work, fmt.Sprint("on ", n)))
		file, done := along(t, away), make(chan error)
		go func() {
			_, err := home.TakeIn(ctx, bytes.NewReader(file))
			done <- err
		}()
		for looking := true; looking; {
			select {
			case err := <-done:
				if looking = false; err != nil {
					t.Fatal(err)
				}
			default:
			}
			if heads, _, err := home.List(10, "", false); err != nil || len(heads) != 1 {
				t.Fatalf("round %d: there are %d quilts, %v; want one at any moment", n, len(heads), err)
			}
		}
	}
}

// One export is such a file too.
func TestOneExportIsTakenIn(t *testing.T) {
	from, to := newStore(t), newStore(t)
	was := worked(t, from)
	data, err := from.Export(was.ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, end := range []string{"", "\n"} {
		want := "added 1, further 0, apart 0, here 0, binned 0, unread 0"
		if end != "" {
			want = "added 0, further 0, apart 0, here 1, binned 0, unread 0"
		}
		if got := takeIn(t, to, append(data, end...)); got != want {
			t.Errorf("with the end %q: %s, want %s", end, got, want)
		}
	}
}

// What can't be read is told, and the others come. A file of another kind changes nothing.
func TestWhatIsWrongInAFileOfQuilts(t *testing.T) {
	from := newStore(t)
	create(t, from)
	create(t, from)
	whole := string(along(t, from))
	lines := strings.SplitAfter(whole, "\n")
	long := lines[0] + lines[1][:len(lines[1])-3] + strings.Repeat(" ", 17<<20) + "]}\n" + strings.Join(lines[2:], "")
	for name, c := range map[string]struct{ file, want, says string }{
		"cut in the end":            {strings.Join(lines[:3], ""), "added 2, further 0, apart 0, here 0, binned 0, unread 0, cut", ""},
		"cut in a quilt":            {whole[:len(whole)-40], "added 1, further 0, apart 0, here 0, binned 0, unread 1, cut", "Export it again"},
		"one is damaged":            {strings.Replace(whole, `"kind":"plan"`, `"kind":"pl`, 1), "added 1, further 0, apart 0, here 0, binned 0, unread 1", "no exported session"},
		"one is no plan":            {strings.Replace(whole, `"kind":"plan"`, `"kind":"tick"`, 1), "added 1, further 0, apart 0, here 0, binned 0, unread 1", "must begin with the plan"},
		"one is too long":           {long, "added 1, further 0, apart 0, here 0, binned 0, unread 1", "more than"},
		"rubbish between":           {lines[0] + "\n\nrubbish\n" + strings.Join(lines[1:], ""), "added 2, further 0, apart 0, here 0, binned 0, unread 3", "no exported session"},
		"one of an edition to come": {strings.Replace(whole, `"edition":`, `"edition":9`, 1), "added 1, further 0, apart 0, here 0, binned 0, unread 1", "newer program"},
	} {
		took, err := newStore(t).TakeIn(ctx, strings.NewReader(c.file))
		if err != nil || inShort(took) != c.want {
			t.Errorf("%s: %s, %v; want %s", name, inShort(took), err, c.want)
		}
		for _, u := range took.Unread {
			if !strings.Contains(u.Why.Error(), c.says) {
				t.Errorf("%s: number %d (%s) says %q, want %q", name, u.Place, u.Title, u.Why, c.says)
			}
		}
	}
	for name, c := range map[string]struct{ file, says string }{
		"empty":               {"", "no file of quilts"},
		"a picture":           {"\x89PNG\r\n\x1a\n" + strings.Repeat("\x00", 1<<20), "no file of quilts"},
		"a packed file":       {"PK\x03\x04" + strings.Repeat("x", 100), "no file of quilts"},
		"other JSON":          {`{"quilts": []}`, "no file of quilts"},
		"a newer form":        {strings.Replace(whole, `"cornerwise-quilts":1`, `"cornerwise-quilts":2`, 1), "newer Cornerwise"},
		"a beginning without": {`{"cornerwise-quilts":x` + "\n", "no file of quilts"},
	} {
		to := newStore(t)
		took, err := to.TakeIn(ctx, strings.NewReader(c.file))
		var refusal *steps.Refusal
		if !errors.As(err, &refusal) || !strings.Contains(refusal.Message, c.says) || inShort(took) != inShort(session.TakenIn{}) {
			t.Errorf("%s: %s, %v; want the refusal %q", name, inShort(took), err, c.says)
		}
		if heads, _, _ := to.List(10, "", false); len(heads) != 0 {
			t.Errorf("%s: %d quilts, want none", name, len(heads))
		}
	}
}

// endless is a file whose beginning is right, and then one piece again and again.
type endless struct {
	begin string
	again string
	left  int64
}

func (e *endless) Read(data []byte) (n int, err error) {
	if e.begin != "" {
		n = copy(data, e.begin)
		e.begin = e.begin[n:]
		return n, nil
	}
	if e.left <= 0 {
		return 0, io.EOF
	}
	for n+len(e.again) <= len(data) {
		n += copy(data[n:], e.again)
	}
	e.left -= int64(n)
	return n, nil
}

// However large a file is, little of it is in memory, and few of its faults are told.
func TestAHugeFileOfQuiltsHoldsLittle(t *testing.T) {
	for name, c := range map[string]struct {
		again string
		want  string
	}{
		"one line without end": {"x", "unread 1, cut"},
		"lines without end":    {"{}\n", "unread 9999"},
		"blank lines":          {"\n", "unread 9999"},
	} {
		s := newStore(t)
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		took, err := s.TakeIn(ctx, &endless{begin: "{\"cornerwise-quilts\":1}\n", again: c.again, left: 96 << 20})
		runtime.ReadMemStats(&after)
		if !strings.HasSuffix(inShort(took), c.want) || len(took.Unread) > 50 {
			t.Errorf("%s: %s, %v; want %s, and at most 50 told", name, inShort(took), err, c.want)
		}
		if held := after.HeapSys - before.HeapSys; int64(held) > 64<<20 {
			t.Errorf("%s: the heap grew by %d MiB, want few", name, held>>20)
		}
	}
}

// However many photos its plans have named over time: what is limited is the history.
func TestAQuiltWithManyPhotosIsTakenAlong(t *testing.T) {
	s := newStore(t)
	head := create(t, s)
	var photos []string
	for n := range 5 {
		photo := keptPhoto(t, s, strings.Repeat(string(rune('a'+n)), 8<<20))
		photos = append(photos, photo)
		do(t, s, head.ID, steps.Op{ID: fmt.Sprint("plan ", n), Kind: steps.KindPlan, Plan: photographed(photo)})
	}
	file := along(t, s)
	if len(file) < 50<<20 {
		t.Fatalf("the file has %d bytes; this proves nothing", len(file))
	}
	other := newStore(t)
	took, err := other.TakeIn(ctx, bytes.NewReader(file))
	if err != nil || len(took.Added) != 1 {
		t.Fatalf("TakeIn: %s, %v; want the quilt", inShort(took), err)
	}
	for n, id := range photos {
		if data, err := other.Photo(id); err != nil || len(data) != 8<<20 {
			t.Errorf("photo %d: %d bytes, %v, want it whole", n, len(data), err)
		}
	}
}

// FuzzTakeIn: any bytes are taken in or refused, and what is taken can be given again.
func FuzzTakeIn(f *testing.F) {
	from := newStore(f)
	worked(f, from)
	f.Add(along(f, from))
	f.Add([]byte("{\"cornerwise-quilts\":1}\n{\"quilts\":0}\n"))
	f.Fuzz(func(t *testing.T, file []byte) {
		s := newStore(t)
		took, err := s.TakeIn(ctx, bytes.NewReader(file))
		var refusal *steps.Refusal
		if err != nil && !errors.As(err, &refusal) {
			t.Fatalf("TakeIn: %v, want a refusal", err)
		}
		have, _, err := s.List(100, "", false)
		if err != nil || len(have) > len(took.Added) {
			t.Fatalf("it has %d quilts, %v; want at most the %d that came", len(have), err, len(took.Added))
		}
		again := newStore(t)
		back, err := again.TakeIn(ctx, bytes.NewReader(along(t, s)))
		if err != nil || len(back.Added) != len(have) || len(back.Unread) > 0 {
			t.Fatalf("given again: %s, %v; want the %d that are there", inShort(back), err, len(have))
		}
	})
}
