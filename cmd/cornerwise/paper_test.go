package main

import (
	"bytes"
	"context"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// papers are the two that people print on, width and height in inches (ISO 216; ANSI Y14.1).
var papers = map[string][2]float64{"A4": {210 / 25.4, 297 / 25.4}, "Letter": {8.5, 11}}

// printed is the page that is open as a PDF on a paper, at 100 %; it stays with the pictures.
func (d *tablet) printed(paper, name string) (file string) {
	d.t.Helper()
	js[bool](d, "document.fonts.ready.then(() => true)")
	ctx, cancel := context.WithTimeout(d.ctx, answersIn)
	defer cancel()
	on := papers[paper]
	made, err := chromedp.Call(ctx, page.PrintToPDF,
		page.PrintToPDFParams{PaperWidth: on[0], PaperHeight: on[1]})
	if err != nil {
		d.t.Fatalf("print %s on %s: %v", name, paper, err)
	}
	folder := filepath.Join(shots, "paper")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		d.t.Fatal(err)
	}
	file = filepath.Join(folder, name+"-"+paper+".pdf")
	if err := os.WriteFile(file, made.Data, 0o644); err != nil {
		d.t.Fatal(err)
	}
	return file
}

// tool runs another program's eye on a PDF.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("no %s found; .ci/test installs it", name)
		}
		t.Skipf("no %s found; install poppler-utils and zbar-tools, or run .ci/test", name)
	}
	out, err := exec.Command(name, args...).Output()
	var ended *exec.ExitError
	if errors.As(err, &ended) && name == "zbarimg" && ended.ExitCode() == 4 {
		return "" // it saw no code
	}
	if err != nil {
		t.Fatalf("%s %q: %v", name, args, err)
	}
	return string(out)
}

// wordsOf are the words of each page of a PDF, a blank between two.
func wordsOf(t *testing.T, file string) (pages []string) {
	t.Helper()
	all := strings.Split(tool(t, "pdftotext", "-raw", file, "-"), "\f")
	for _, words := range all[:len(all)-1] {
		pages = append(pages, strings.Join(strings.Fields(words), " "))
	}
	return pages
}

// onOnePage looks for groups of words, in their order through a PDF, and that no group is parted.
func onOnePage(t *testing.T, what string, pages []string, groups [][]string) {
	t.Helper()
	on, at := 0, 0
	for _, group := range groups {
		for i, words := range group {
			words = strings.Join(strings.Fields(words), " ")
			from := on
			for ; on < len(pages); on, at = on+1, 0 {
				if found := strings.Index(pages[on][at:], words); found >= 0 {
					at += found + len(words)
					break
				}
			}
			if on == len(pages) {
				t.Errorf("%s: %q of %.80q is not on paper from page %d on", what, words, group, from+1)
				return
			}
			if i > 0 && on != from {
				t.Errorf("%s: %q is on page %d, parted from %q", what, words, on+1, group[0])
			}
		}
	}
}

// straight are the straight lines of a page of a PDF, as wide as said, in points of the paper.
func straight(t *testing.T, file string, page int, wide string) (lines [][4]float64) {
	t.Helper()
	n := strconv.Itoa(page)
	svg := tool(t, "pdftocairo", "-svg", "-f", n, "-l", n, file, "-")
	form := regexp.MustCompile(`<path [^>]*stroke-width:` + wide + `;[^>]* ` +
		`d="M (\S+) (\S+) L (\S+) (\S+) " transform="matrix\(([^)]*)\)"`)
	for _, m := range form.FindAllStringSubmatch(svg, -1) {
		var x [4]float64
		var k [6]float64
		for i := range x {
			x[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		for i, s := range strings.Split(m[5], ",") {
			k[i], _ = strconv.ParseFloat(s, 64)
		}
		lines = append(lines, [4]float64{k[0]*x[0] + k[2]*x[1] + k[4], k[1]*x[0] + k[3]*x[1] + k[5],
			k[0]*x[2] + k[2]*x[3] + k[4], k[1]*x[2] + k[3]*x[3] + k[5]})
	}
	return lines
}

// longNames has names as long as a plan takes, and without a blank to break at.
var longNames = `{"title":"` + strings.Repeat("Harbourlanterns", 5) + `",
	"center":{"width":"36 1/2","length":"48 1/2"},"borders":[
	{"name":"` + strings.Repeat("darkline", 5) + `","cut":"1 1/2",
	"fabric":{"name":"` + strings.Repeat("indigo", 6) + `"}},
	{"name":"a ticking stripe of the broadest kind","cut":"5 1/2","cutTopBottom":"6 1/2"},
	{"name":"edge","cut":"2","fabric":{"name":"` + strings.Repeat("indigo", 6) + `"}}]}`

func TestPrintsMeasureTrueAndAreNotParted(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s, there := lan(t)
	plans := map[string]string{"long-names": longNames}
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "plans", "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		few := !looked && strings.Contains("thin-sides tiny-spare twelve-borders reed-bank", name)
		if !strings.HasSuffix(name, ".sheet") && !few {
			plans[name] = string(data)
		}
	}
	d := b.tablet(1080, 810)
	for name, plan := range plans {
		id := s.planned(plan)
		s.goOn(id, "center.trimmed")
		d.open(s.url + "/s/" + id + "/paper")
		// A step with its ticks, a fabric with its pieces: each is kept together.
		groups := js[[][]string](d, `[...document.querySelectorAll(".fabric, .listed tbody tr")]
			.map(g => [...g.querySelectorAll("p:not(.legend), h3, thead th:first-child, tbody th, .act-of")]
			.map(e => e.firstChild.nodeType === 3 ? e.firstChild.textContent : e.innerText))`)
		var sheet struct {
			Sheet struct {
				Corner struct {
					AngleSides float64 `json:",string"`
				}
			}
		}
		if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &sheet); status != 200 || err != nil {
			t.Fatalf("GET the session: got %d %v", status, err)
		}
		for paper, size := range papers {
			what := name + " on " + paper
			file := d.printed(paper, name)
			pages := wordsOf(t, file)
			onOnePage(t, what, pages, groups)
			measured(t, what, file, len(pages), size, sheet.Sheet.Corner.AngleSides)
			if name == "lantern-print" { // it takes seconds
				codes(t, what, file, there+"/s/"+id)
			}
			legible(t, what, file)
			words := pages[len(pages)-1]
			if !strings.Contains(words, "Corner card") || !strings.Contains(words, "measure true.") {
				t.Errorf("%s: the last page is %.100q, want the whole corner card on it", what, words)
			}
		}
	}
}

// measured holds the corner card, which is the last page, to a ruler: 1 in is 72 points, 5 cm are
// 72 × 5 / 2.54 (exact).
func measured(t *testing.T, what, file string, page int, paper [2]float64, angle float64) {
	t.Helper()
	rules := straight(t, file, page, "5")
	if len(rules) != 2 {
		t.Errorf("%s: the card has %d lines to lay a ruler on, want 2", what, len(rules))
		return
	}
	for i, want := range []float64{72, 72 * 5 / 2.54} {
		got, lean := rules[i][2]-rules[i][0], rules[i][3]-rules[i][1]
		if math.Abs(got/want-1) > 0.005 || math.Abs(lean) > 0.01 {
			t.Errorf("%s: line %d measures %.3f pt on paper, want %.3f, within 0.5 %%", what, i+1, got, want)
		}
	}
	miter := straight(t, file, page, "7")
	if len(miter) != 1 {
		t.Errorf("%s: the card has %d miter lines, want 1", what, len(miter))
		return
	}
	m := miter[0]
	got := math.Atan2(math.Abs(m[2]-m[0]), math.Abs(m[3]-m[1])) * 180 / math.Pi
	if math.Abs(got-angle) > 0.1 {
		t.Errorf("%s: the miter line is at %.2f° on paper, want %.2f°", what, got, angle)
	}
	const rim = 28 // points; printers leave some 5 to 10 mm (cp)
	for _, line := range append(rules, m) {
		for i, at := range line {
			if most := 72*paper[i%2] - rim; at < rim || at > most {
				t.Errorf("%s: a line of the card reaches %.0f, want %d to %.0f", what, at, rim, most)
			}
		}
	}
}

// codes reads each page as a camera would: it has one that opens a page of this session.
func codes(t *testing.T, what, file, session string) {
	t.Helper()
	base := filepath.Join(t.TempDir(), "page")
	tool(t, "pdftoppm", "-r", "250", "-gray", file, base)
	pages, err := filepath.Glob(base + "-*")
	if err != nil || len(pages) == 0 {
		t.Fatalf("%s: no pages, %v", what, err)
	}
	for i, picture := range pages {
		read := strings.Fields(tool(t, "zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable",
			picture))
		for _, address := range read {
			if !strings.HasPrefix(address, session+"/") {
				t.Errorf("%s: page %d has a code of %q, want one of %s", what, i+1, address, session)
			}
		}
		if len(read) == 0 {
			t.Errorf("%s: page %d has no code", what, i+1)
		}
	}
}

// legible: no word of the step list is under 10 points.
func legible(t *testing.T, what, file string) {
	t.Helper()
	// The box of a word is 1.37 times as high as its type: the typeface's ascent and descent.
	word := regexp.MustCompile(`yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]*)<`)
	for _, page := range strings.Split(tool(t, "pdftotext", "-bbox", file, "-"), "<page ") {
		if !strings.Contains(page, ">done,<") { // the head of a stage
			continue
		}
		for _, m := range word.FindAllStringSubmatch(page, -1) {
			top, _ := strconv.ParseFloat(m[1], 64)
			bottom, _ := strconv.ParseFloat(m[2], 64)
			if points := (bottom - top) / 1.37; points < 9.95 && m[3] != "✓" { // of another typeface
				t.Errorf("%s: %q is set in %.1f points, want 10", what, m[3], points)
				return
			}
		}
	}
}

// What was wrong on paper once.
func TestPaperIsNotWasted(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s, _ := lan(t)
	plan := func(name string) string {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "plans", name+".json"))
		if err != nil {
			t.Fatal(err)
		}
		return s.planned(string(data))
	}
	twelve, coped := plan("twelve-borders"), plan("lantern-print")
	d := b.tablet(1080, 810)
	for paper := range papers {
		d.open(s.url + "/s/" + twelve + "/cutting")
		if got := len(wordsOf(t, d.printed(paper, "twelve-cutting"))); got > 7 {
			t.Errorf("twelve borders on %s: %d pages to cut by, want 7 at the most", paper, got)
		}
		d.open(s.url + "/s/" + coped + "/cutting")
		onOnePage(t, "coping on "+paper, wordsOf(t, d.printed(paper, "coped-cutting"))[:1],
			[][]string{{"Strips to cut", "coping strips", "lanterns", "coping strips", "right, part 2"}})
		d.open(s.url + "/s/" + coped + "/paper")
		d.tap("#with-cuts")
		d.tap("#with-steps")
		if pages := wordsOf(t, d.printed(paper, "coped-card")); len(pages) != 1 || !strings.Contains(pages[0], "Corner card") {
			t.Errorf("only the corner card on %s: %d pages, %.100q; want 1", paper, len(pages), pages)
		}
		d.open(s.url + "/s/" + coped + "/sheet")
		sheet := d.printed(paper, "coped-sheet")
		words := strings.Join(wordsOf(t, sheet), " ")
		if strings.Contains(words, "Touch") || !strings.Contains(words, "the four corners") {
			t.Errorf("the sheet on %s: it speaks of touching, or has no corners: %.200q", paper, words)
		}
	}
}

// Ink on white paper, whatever the look of the screen.
func TestTheDarkLookIsNotPrinted(t *testing.T) {
	t.Parallel()
	b := newBrowser(t)
	s, _ := lan(t, "--demo")
	d := b.tablet(1080, 810)
	d.open(s.url + "/")
	d.tap(`a[href^="/s/"]`)
	d.until("the demo session", `document.body.dataset.id`)
	id := js[string](d, "document.body.dataset.id")
	for _, page := range []string{"paper", "sheet", "keep", "shopping"} {
		d.open(s.url + "/s/" + id + "/" + page)
		seen := func(name string) []byte {
			base := filepath.Join(t.TempDir(), name)
			tool(t, "pdftoppm", "-r", "40", d.printed("A4", name+"-"+page), base)
			files, _ := filepath.Glob(base + "-*")
			var all []byte
			for _, file := range files {
				data, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				all = append(all, data...)
			}
			return all
		}
		light := seen("light")
		d.dark(true)
		if !bytes.Equal(seen("dark-device"), light) {
			t.Errorf("%s is printed otherwise from a device set to the dark look", page)
		}
		js[bool](d, `(() => { document.documentElement.dataset.theme = "dark"; return true })()`)
		if !bytes.Equal(seen("dark-page"), light) {
			t.Errorf("%s is printed otherwise from a page in the dark look", page)
		}
		d.dark(false)
	}
}
