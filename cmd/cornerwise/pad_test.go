package main

import "testing"

// keys touches keys of the pad by what stands on them.
func (d *tablet) keys(labels ...string) {
	d.t.Helper()
	for _, label := range labels {
		js[bool](d, `(() => { [...document.querySelectorAll("#pad .keys button")].find(b => b.textContent === %q).id = "key"; return true })()`, label)
		d.tap("#key")
		js[bool](d, `(() => { document.getElementById("key").removeAttribute("id"); return true })()`)
	}
}

// The pad takes a measure with one finger: any sixteenth in two taps beside the digits,
// a comma for centimeters; every key is large enough, and the value is kept.
func TestThePadTakesAMeasureWithOneFinger(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s := start(t, t.TempDir())
	d := b.tablet(1080, 810)
	for _, c := range []struct {
		name, plan string
		keys       []string
		want       string
	}{
		{"sixteenths", awayPlan, []string{"3", "6", "3/8", "+ 1/16"}, "36 7/16"},
		{"another fraction in its place", awayPlan, []string{"3", "6", "1/2", "3/4"}, "36 3/4"},
		{"a fraction first", awayPlan, []string{"7/8", "3", "6"}, "36 7/8"},
		{"centimeters", `{"unit":"cm","center":{"width":"92.7","length":"120"},"borders":[{"name":"ticking","cut":"11.5"}]}`, []string{"9", "3", ",", "7"}, "93,7"},
	} {
		id := s.planned(c.plan)
		s.goOn(id, "width.top")
		for _, size := range screens {
			d.resize(size.width, size.height)
			d.at(s, id, "widths", "width.top")
			d.tap("#i-width-top")
			d.until("the pad", `!document.getElementById("pad").hidden`)
			d.keys(c.keys...)
			if got := js[string](d, `document.getElementById("pad-in").value`); got != c.want {
				t.Errorf("%s: %v make %q, want %q", c.name, c.keys, got, c.want)
			}
			d.shot("980-pad-" + c.want[len(c.want)-1:])
			for _, fault := range js[[]string](d, `[...document.querySelectorAll("#pad button")].filter(b => b.getClientRects().length).map(b => [b.textContent, b.getBoundingClientRect()])
				.filter(([text, r]) => r.height < (innerWidth < 600 ? 44 : 63.5) || r.width < 44 || r.bottom > innerHeight + 1 || r.right > innerWidth + 1).map(([text, r]) => text + " " + r.width.toFixed() + "x" + r.height.toFixed())`) {
				t.Errorf("%s at %dx%d: a key too small or cut off: %s", c.name, size.width, size.height, fault)
			}
			d.tap("#pad-yes")
			d.until("the pad closed", `document.getElementById("pad").hidden`)
			d.until("the measure kept", `document.getElementById("sync").dataset.sync === "in" && document.getElementById("i-width-top").value === %q`, c.want)
		}
		var state struct {
			Stages []struct {
				Steps []struct{ Measures []struct{ ID, Value string } }
			}
		}
		if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &state); status != 200 || err != nil {
			t.Fatalf("GET the session: got %d %v, want 200", status, err)
		}
		for _, step := range state.Stages[0].Steps {
			for _, m := range step.Measures {
				if m.ID == "width-top" && m.Value != c.want {
					t.Errorf("%s: the session has %q, want %q", c.name, m.Value, c.want)
				}
			}
		}
	}
}
