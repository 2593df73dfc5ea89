package main

import (
	"slices"
	"testing"
	"time"
)

// keepsFrames notes how long each touch took until the frame that shows what it did, as the
// browser itself measures it: from the time at which the finger lets go, in steps of 8 ms; and when
// the script of the page had come and shown a frame, so that a tap counts.
const keepsFrames = `window.frames6 = [];
	document.addEventListener("DOMContentLoaded", () => requestAnimationFrame(now => window.readyAt = now));
	new PerformanceObserver(list => list.getEntries().forEach(e => {
		if (e.name === "pointerup") frames6.push(e.duration);
	})).observe({type: "event", durationThreshold: 16, buffered: true});`

// BenchmarkTapToFrame is how long a tap on the wide button takes until the screen shows it, and
// a first page until a tap on it counts, on a tablet whose processor is six times as slow.
func BenchmarkTapToFrame(b *testing.B) {
	for _, size := range [][2]int64{{1080, 810}, {810, 1080}} {
		b.Run(map[bool]string{true: "wide", false: "upright"}[size[0] > size[1]], func(b *testing.B) {
			page := newBrowser(b)
			s := start(b, b.TempDir(), "--demo")
			d := page.tablet(size[0], size[1])
			d.before(keepsFrames)
			d.slowed(6)
			var took, ready []float64
			for b.Loop() {
				id := s.planned(plainLengthwise)
				d.open(s.url + "/s/" + id)
				d.until("the button", "window.readyAt")
				ready = append(ready, js[float64](d, "readyAt"))
				d.inStep()
				for range 50 {
					now := js[string](d, "view.tick.id")
					if js[bool](d, "view.tick.cuts") {
						s.op(id, "%s", tickText("cut-"+now, now, true))
					} else {
						d.until("a tap counts", rested)
						time.Sleep(300 * time.Millisecond)
						js[bool](d, "(() => { frames6 = []; return true })()")
						d.hold("#do", 60*time.Millisecond)
						d.until("the frame", "frames6.length")
						took = append(took, slices.Max(js[[]float64](d, "frames6")))
					}
					d.until("the next act", "view.tick.id !== %q", now)
					d.inStep()
				}
			}
			slices.Sort(took)
			b.ReportMetric(took[len(took)/2], "ms/tap")
			b.ReportMetric(took[len(took)*95/100], "ms/tap-p95")
			b.ReportMetric(slices.Max(ready), "ms/ready")
		})
	}
}
