// Package static holds the templates, styles, scripts and the font. It knows which files go out
// together under one name (Bundles), and nothing else. What follows is how the scripts of a
// session's page work.
//
// # The page holds every step
//
// One step is in sight, so that looking round and ticking need no server (view.js, paint.js).
// The drawings of the other steps follow in one answer. html/template is the only renderer: when
// numbers or steps change, the page is fetched and its main part exchanged, and the same tick
// stays in sight (refresh in live.js).
//
// rules.js repeats the rules that a page must follow without a network: what is locked, what
// comes next, what the button does, how the last thing done is told. The server and the script
// must answer alike the cases recorded in testdata/rules (TestTheScriptsRulesAreTheServers).
//
// # What waits, and what was refused
//
// An op is written to the browser's storage before anything else happens, each under a key of
// its own, and sent in order, one at a time, until the server has an answer (storage.js,
// queue.js). The same op sent twice does no harm. Two tabs share what is kept.
//
// An answer is the server's only if it looks like it: a revision, or an error with a code. A
// strange network answers 200 to anything, with a page of its own; that is no ack. What people have
// to see to (a full disk, or a device that has added all that it may) is said once, and what was
// not taken for it waits and is tried again.
//
// What the server refused is kept too, with the reason, until the person has chosen: look, send
// again, leave out (refused.js). Sending it again makes a new op, because the server keeps its
// answer to the old id. It is left out unasked only when the work stands as it wanted.
//
// # The live connection
//
// A websocket tells what every device does (live.js). An open socket is never trusted after a
// sleep: wake makes a new one. 35 s without a word count as dead, for the server sends something
// every 15 s.
// The page tries again after 0.3 s, then after twice as long each time, up to 10 s. Each pause is
// up to half longer or shorter by chance, so that devices which lost the server together do not
// come back together.
//
// A close code of 1008 says that this device may not come in any more. Else a socket does not
// say why it was closed or refused, so the page asks the same address by a plain GET, after each
// close and each fourth failure: 401, 403, 404 or 421 with a code of ours ends the trying until
// the device is woken.
//
// # A start without the server
//
// It takes a service worker (worker.js), which browsers allow over https and on this computer
// only. The server sends it as /worker.js, with the hashed addresses of its version's styles and
// scripts. It asks the network first, and after 4 s without an answer opens what it keeps. Every
// address of a session's steps is its one page. offline.js remembers the work as last heard, so
// that an older page does not show done work as open. A new version takes over at once, and of
// the old one keeps what a kept page still names. A device that was put out, or a session that
// is gone, takes with it what was kept. The first page leads a device of one quilt to that one:
// what was kept of others goes then, and without the server it leads there too.
//
// # What a device is set to
//
// Some settings are for one device, and its browser keeps them (screen.js, menu.js, the page of
// settings). What only some devices are set to is a bundle of its own, which the page names and
// bring.js takes after the step is shown; it hears by the event painted that the view may be
// another. So the page weighs the same for all (TestASessionPageIsLight).
//
// Of these the server is told the hand alone, by a cookie, because it draws the cuts.
//
// Two scripts more come after the step to every device (the bundle return.js). One fills in the
// machine's note (machine.js). The other lays a card over the step where this device has not had
// the quilt in sight for ten minutes (return.js), as the browser's storage tells; the server makes
// the card, so that away from it there is none. TestWhoComesBackFindsACard
//
// Keys and pedals (keys.js) look round and do what the wide button says; a cut or a look they
// never do. A pedal sends Space as a keyboard does, so byTab in pedal.js tells whose it is: an
// element that was come to by the Tab key gets it, one on which a touch left the focus does not.
// TestAPedalDoesWhatTheWideButtonSays
//
// A screen is kept on by a wake lock or by a film (awake.js), which wants the film served in
// ranges. The mark on the screen tells what is, not what was asked for. TestTheScreenIsKeptOn,
// TestTheScreenSaverIsHeldBack
//
// A step is read aloud by the browser's voice (voice.js). spoken.js makes of what is shown what
// people say, and touches no page: TestLengthsAreSaidAsPeopleSayThem
//
// # Words of the trade
//
// A step's How? names the words of the trade that the step uses (words.js); each opens to its
// sentence and its drawing. They come from the page of all of them, /terms, in one answer, and are
// kept in the browser for when the server is away. TestAWordOpensFromItsStep
//
// # Waiting
//
// The How? of a step that presses, starches or marks starts a count (count.js). What is kept of it
// is the time when it ends, so that it outlives the page; its script comes when a How? is opened,
// or while a count runs. TestACountGoesOnWhileOneMovesAbout
//
// # The screen
//
// The command and its number have their size in every state; fit.js finds what gives way so that a
// step stands whole: the reason why, the act's title, the picture's size, and its words before they
// are too small to read. A touch on the picture opens it over the whole screen. The browser's tests
// hold every act of plans of all kinds to it, at both paces: nothing scrolls, no number under 76
// px, no command under 40, no other text under 32, no target under 64, none nearer to the next than
// 16 (TestEveryStepIsLegible; TestTheOtherEngine for WebKit).
//
// A tap shows the next step before anything else is done for it: what fits there was found while
// nobody acted (foresee in fit.js), and the op, which is written down by then, is sent after the
// frame. On a processor six times as slow that is BenchmarkTapToFrame.
//
// The pace of a device is how ticks are shown and taken (pace.js): each by itself, or those of a
// group at once, by one op. What is half typed is kept in the browser (half.js), what is put off is
// an op (later.js). The drawings come stage by stage (draw.js).
//
// A measure is taken on a pad in the page (pad.js): a tablet's own keyboard covers half the
// screen and has no eighths. Fields ask for no keyboard (inputmode), and a tap opens the pad;
// one who comes by the Tab key types into the field itself.
//
// # The home screen
//
// The first page can be put on a device's home screen: the manifest and the icons are for that.
// Over plain http browsers that want a service worker for it put a link there instead; the page
// This device says so. TestTheManifestNamesWhatIsThere
//
// # A photo of the fabric
//
// The plan's form can photograph a border's fabric. The dialog for it is a bundle of its own
// (fabric.js), which form.js brings when it is asked for. fabric.js holds the frame and what is
// known of the fabric in hand; the stages add themselves in the order of the bundle: the photo
// (fabricphoto.js), the sheet on it and its corners (fabrictouch.js), the repeat both ways
// (fabricrepeat.js), the four corners (fabriccorners.js draws them, fabricslide.js slides), and
// what goes into the form (fabrictake.js). The server looks at the photo. Sliding moves attributes
// of SVG patterns, once a frame; words follow five times a second (BenchmarkFabricSlides).
// TestAFabricIsPhotographedIntoThePlan
//
// # On paper
//
// print.css is for every page: a leaf is laid out as a table, so that browsers set its head, with
// its QR code, on each of its pages. What must not be parted (a step and its boxes, a fabric and
// its pieces) asks for that, and is kept so low by session/web and steps/draw that a page of
// Letter takes it. Nothing may be wider than 180 mm: browsers shrink a whole print for it, and
// the corner card (.truesize) would not measure true. TestPrintsMeasureTrueAndAreNotParted
// measures them as PDF, on A4 and Letter.
//
// As they are sent, scripts have the syntax of ECMAScript 2015 (the service worker that of 2017),
// and styles what iOS 12.5 reads: an old browser leaves out whole what it can't parse
// (TestScriptsAndStylesAreOfOldWords). session/web minifies them, so that comments cost a tablet
// nothing.
package static

import "embed"

//go:embed *.css *.js *.woff2 *.mp4 icon.svg icon-*.png font-OFL.txt templates/*.html
var Files embed.FS

// Font is the one typeface (SIL Open Font License, font-OFL.txt), with the weights from 400 to
// 700 only: the styles use no others, and the whole range weighs 14 KB more.
const Font = "atkinson-hyperlegible-next.woff2"

// Film is a black picture of 16 pixels and silence, 10 s long, for browsers that keep a screen on
// for nothing else (awake.js). It was made by
//
//	ffmpeg -f lavfi -i color=c=black:s=16x16:r=5 -f lavfi -i anullsrc=r=8000:cl=mono -t 10 \
//	  -c:v libx264 -profile:v baseline -level 3.0 -pix_fmt yuv420p -g 50 -crf 40 \
//	  -c:a aac -b:a 8k -movflags +faststart awake.mp4
const Film = "awake.mp4"

// Icons are the page's sign on a home screen and on a tab: a miter, drawn here as icon.svg. It is
// cut to a circle by some, so nothing that matters lies outside of one. The others were made by
//
//	for s in 180 192 512; do rsvg-convert -w $s -h $s icon.svg -o icon-$s.png; done
var Icons = []string{"icon.svg", "icon-180.png", "icon-192.png", "icon-512.png"}

// Worker is the script of the service worker, which goes out alone.
const Worker = "worker.js"

// Bundles are files that are sent as one, in this order.
var Bundles = map[string][]string{
	"plain.css": {
		"drawing.css", "base.css", "corners.css", "home.css", "devices.css",
		"settings.css", "looks.css", "sheet.css", "paper.css", "cut.css", "print.css",
		"papers.css", "terms.css",
	},
	"form.css":   {"drawing.css", "base.css", "corners.css", "form.css"},
	"fabric.css": {"fabric.css"},
	"session.css": {
		"drawing.css", "base.css", "frame.css", "step.css", "bar.css", "room.css", "map.css",
		"list.css", "looks.css", "pad.css",
		"return.css", "hand.css", "print.css",
	},

	"screen.js":   {"screen.js"},
	"menu.js":     {"menu.js"},
	"settings.js": {"pedal.js", "spoken.js", "settings.js"},
	"paper.js":    {"paper.js"},
	"pair.js":     {"pair.js"},
	"devices.js":  {"devices.js"},
	"form.js":     {"chips.js", "form.js"},
	"fabric.js": {
		"dom.js", "dialog.js", "fabriclength.js", "fabricdrag.js", "fabricask.js", "fabric.js",
		"fabricphoto.js", "fabrictouch.js", "fabricrepeat.js", "fabriccorners.js", "fabricslide.js",
		"fabrictake.js",
	},
	"session.js": {
		"rules.js", "address.js", "dom.js", "announce.js", "storage.js", "queue.js", "work.js",
		"refused.js", "pace.js", "view.js", "paint.js", "fit.js", "dialog.js", "tick.js", "redo.js",
		"reason.js", "later.js", "hold.js", "measure.js", "half.js", "pad.js", "picture.js", "live.js", "draw.js", "offline.js",
		"bring.js", "start.js",
	},

	// What a step is shown without comes after it, and what only some devices are set to comes to
	// those.
	"return.js": {"machine.js", "return.js"},
	"words.js":  {"words.js", "waits.js"},
	"count.js":  {"count.js"},
	"keys.js":   {"pedal.js", "keys.js"},
	"awake.js":  {"awake.js"},
	"voice.js":  {"spoken.js", "voice.js"},
}
