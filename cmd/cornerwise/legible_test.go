package main

import (
	"strings"
	"testing"

	"cornerwise/session/web"
)

// Every act of plans of all kinds stands whole on a tablet's screen, at its sizes, at both paces.
func TestEveryStepIsLegible(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	for name, plan := range map[string]string{
		"unequal bands, two borders": string(web.DemoPlan),
		"joined aslant":              `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"ticking","cut":"5 1/2","fabric":{"runs":"crosswise"}}]}`,
		"joined straight, a print":   `{"center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"name":"lanterns","cut":"5 1/2","motif":"6","fabric":{"runs":"crosswise","join":"straight"}}]}`,
		"coping, in centimeters":     `{"unit":"cm","center":{"width":"92,7","length":"121,9"},"coping":{"edges":"sides","cut":"4"},"borders":[{"name":"a border with quite a long name","cut":"12","cutTopBottom":"14"},{"cut":"4,5"}]}`,
		"heads up, joined aslant":    `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"lamps","cut":"4 1/2","fabric":{"way":"one-way","heads":"up"}}]}`,
		"heads up, a print":          `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"name":"lamps","cut":"4 1/2","motif":"5","fabric":{"join":"straight","way":"one-way","heads":"up"}}]}`,
		"a wide allowance":           `{"seam":"3/8","center":{"width":"100 7/16","length":"108 11/16"},"borders":[{"name":"ticking","cut":"10 7/16","stripe":"1 1/8","motif":"6"}]}`,
	} {
		if !looked && (name == "joined aslant" || name == "a wide allowance" || strings.HasPrefix(name, "heads up")) {
			continue // by hand
		}
		id := s.planned(plan)
		for _, pace := range []string{"", "practiced"} {
			d := b.tablet(1080, 810)
			d.open(s.url + "/s/" + id)
			js[bool](d, `(() => { localStorage.setItem("pace", %q); return true })()`, pace)
			d.open(s.url + "/s/" + id)
			d.until("every drawing", `[...document.querySelectorAll(".tick .pic")].every(p => p.firstElementChild)`)
			for _, size := range [][2]int64{{1080, 810}, {810, 1080}, {1280, 800}} {
				if size[0] == 1280 && plan != string(web.DemoPlan) {
					continue // it has more room than the first, beside each other as there
				}
				d.resize(size[0], size[1])
				js[bool](d, drawn)
				for _, fault := range js[[]string](d, everyAct, pace == "practiced") {
					t.Errorf("%s, %dx%d, %q: %s", name, size[0], size[1], pace, fault)
				}
			}
		}
	}
}

// everyAct looks at each act in turn, each as where work is, and holds the screen to fitsScript.
// At the practiced pace all is shown as if it could be done, so that groups stand together.
var everyAct = strings.Replace(`(() => {
	const faults = [];
	for (const t of ticks) {
		if (%t) for (const u of ticks) shown.done[u.id] = work.done[u.id] = ticks.indexOf(u) < ticks.indexOf(t);
		shown.here = work.here = t.step.id;
		alone = '';
		look(t);
		paint();
		for (const f of CHECK) faults.push((view.group ? "group " + view.group.id : t.id) + ": " + f);
	}
	return [...new Set(faults)].slice(0, 40);
})()`, "CHECK", strings.ReplaceAll(fitsScript, "%", "%%"), 1)
