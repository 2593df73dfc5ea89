package main

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

const plainLengthwise = `{"title": "Quiet water", "center": {"width": "36 1/2", "length": "48 1/2"},
	"borders": [{"name": "water", "cut": "5 1/2", "fabric": {"runs": "lengthwise"}}]}`

// Somebody practiced takes a whole plain border with sixty touches beside the measures, each
// cut held and each look alone.
func TestAPracticedWalkTakesSixtyTouches(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	id := s.planned(plainLengthwise)
	d := b.tablet(1080, 810)
	d.open(s.url + "/s/" + id)
	js[bool](d, `(() => { localStorage.setItem("pace", "practiced"); return true })()`)
	d.open(s.url + "/s/" + id)
	d.inStep()
	touches := 0
	for n := 0; js[string](d, "view.kind") != "end"; n++ {
		if n > 100 {
			t.Fatal("more than a hundred screens")
		}
		now := js[string](d, "view.group ? view.group.id : view.tick.id")
		d.until("what it led to", `!refreshing`)
		d.until("its picture", `(view.group || view.tick).box.querySelector(".pic svg")`)
		d.everySize(fmt.Sprintf("practiced-%03d-%s", n, now), d.fits)
		if js[bool](d, "view.tick.cuts") {
			time.Sleep(400 * time.Millisecond)
			d.hold("#do", 1800*time.Millisecond)
			touches++
		} else if fields := js[[]string](d, plainFields); len(fields) > 0 {
			d.tap("#" + fields[0])
			d.until("the pad", `!document.getElementById("pad").hidden`)
			d.tap(`#pad-plan button`)
			d.until("what the plan says, kept", `document.getElementById("pad").hidden && shown.values[%q]`, strings.TrimPrefix(fields[0], "i-"))
			d.until("the numbers after it", `document.getElementById("sync").dataset.sync === "in" && !refreshing`)
			continue
		} else {
			time.Sleep(400 * time.Millisecond)
			d.tap("#do")
			touches++
		}
		d.until("the next screen after "+now, `view.kind === "end" || (view.group ? view.group.id : view.tick.id) !== %q`, now)
	}
	d.inStep()
	if touches > 60 {
		t.Errorf("%d touches beside the measures, want 60 at most", touches)
	}
	t.Logf("%d touches beside the measures", touches)
	for _, tick := range allTicks(t, s, id) {
		if n := s.inHistory(id, func(kind, is, _ string) bool { return kind == "tick" && is == tick.ID }); n > 1 {
			t.Errorf("the tick %s stands %d times in the history", tick.ID, n)
		}
	}
	s.allDone(id)
}

// plainFields are the fields in sight whose measures finish the step: widths, lengths,
// diagonals and the test seam.
const plainFields = `[...document.querySelectorAll("section.step:not([hidden]) .field")].filter(f =>
	f.getClientRects().length && !f.querySelector("input").value && /^(f-)(width|length|diagonal|top-|seam-across)/.test(f.id)).map(f => f.querySelector("input").id)`
