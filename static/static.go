// Package static holds the templates, styles, scripts and the font. It knows
// which files go out together under one name, and nothing else.
package static

import "embed"

//go:embed *.css *.js *.woff2 font-OFL.txt templates/*.html
var Files embed.FS

// Font is the one typeface (SIL Open Font License, font-OFL.txt).
const Font = "atkinson-hyperlegible-next.woff2"

// Worker is the script of the service worker, which goes out alone.
const Worker = "worker.js"

// Bundles are files that are sent as one, in this order.
var Bundles = map[string][]string{
	"plain.css":   {"drawing.css", "base.css", "corners.css", "home.css", "door.css", "looks.css", "sheet.css", "paper.css", "print.css"},
	"form.css":    {"drawing.css", "base.css", "corners.css", "form.css"},
	"session.css": {"drawing.css", "base.css", "step.css", "map.css", "list.css", "looks.css", "pad.css", "print.css"},

	"screen.js":  {"screen.js"},
	"paper.js":   {"paper.js"},
	"pair.js":    {"pair.js"},
	"devices.js": {"devices.js"},
	"form.js":    {"chips.js", "form.js"},
	"session.js": {"rules.js", "words.js", "keep.js", "queue.js", "work.js", "refused.js", "place.js", "paint.js",
		"fit.js", "dialog.js", "tick.js", "redo.js", "reason.js", "hold.js", "measure.js", "pad.js", "live.js", "offline.js", "start.js"},
}
