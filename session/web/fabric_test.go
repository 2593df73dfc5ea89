package web_test

import (
	"net/url"
	"strings"
	"testing"
)

const stripedPlan = `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[
	{"name":"dark line","cut":"1 1/2","fabric":{"name":"indigo"}},
	{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"},
	{"name":"edge","cut":"2","fabric":{"name":"indigo","usableWidth":"42"}}]}`

func TestTheSheetTellsWhatToBuyAndWhereToCut(t *testing.T) {
	h := openHouse(t)
	id := h.made(stripedPlan)
	snap, err := h.store.Get(id)
	if err != nil {
		t.Fatal(err)
	}
	sheet := snap.Work.Sheet
	striped, shared := sheet.Fabric[1].Picked(), sheet.Together[0].Picked()
	wants(t, "the sheet", h.page(200, "/s/"+id+"/sheet"), "Fabric to buy", striped.Buy.Shown(), shared.Buy.Shown(),
		strings.ReplaceAll(sheet.HowCutLength(snap.Work.Quilt().Plan, sheet.Strips[0]), "+", "&#43;"), "for squaring the ends", "What comes next")
	page := h.page(200, "/s/"+id+"/cutting")
	wants(t, "the cutting page", page, "<h2>ticking</h2>", "<h2>indigo</h2>", "2 ticking, left", "1 dark line, bottom", "<td>"+striped.Layout[3].X.Shown()+"</td>")
	if strings.Contains(page, "<h2>dark line</h2>") {
		t.Error("the cutting page: a border of a shared fabric has a layout of its own beside the shared one")
	}
	lines := []string{
		"ticking: " + striped.Buy.Shown() + " (" + striped.Buy.Other() + "), usable width 40 in or more, strips " + sheet.Fabric[1].Pick,
		"indigo: " + shared.Buy.Shown() + " (" + shared.Buy.Other() + "), usable width 40 in or more, strips " + sheet.Together[0].Pick + "; for dark line and edge"}
	wants(t, "the shopping list as text", string(h.call("GET", "/s/"+id+"/shopping.txt", "").body), append(lines, "Harbour lanterns: fabric to buy\n\n- ", "\n- backing: ", "\n- batting: ", "strips, cut 2 1/2 in\n")...)
	wants(t, "the shopping list", h.page(200, "/s/"+id+"/shopping"), striped.Buy.Shown(), shared.Buy.Shown(), "for dark line and edge")
}

// Coping strips are bought too, and each fabric at hand is judged where it is asked.
func TestCopingStripsAreBoughtAndAPieceAtHandIsJudged(t *testing.T) {
	h := openHouse(t)
	id := h.made(`{"title":"Harbour lanterns","center":{"width":"60 1/2","length":"80 1/2"},"coping":{"edges":"sides"},"borders":[{"name":"lanterns","cut":"6 1/2","motif":"6"}]}`)
	wants(t, "the shopping list as text", string(h.call("GET", "/s/"+id+"/shopping.txt", "").body), "- coping strips: ", "two strips on the sides, cut 1 1/2 in × 80 1/2 in")
	wants(t, "the sheet", h.page(200, "/s/"+id+"/sheet"), "Coping strips, two, before the borders", "with its coping strips")
	page := h.page(200, "/s/"+id+"/cutting?border=1&width=42&length=10")
	wants(t, "the cutting page", page, "<h2>coping strips</h2>", "<th scope=\"row\">left, part 2", "Parts of one strip are joined", "For this border it is ", "too short")
	if strings.Contains(page, "line of the stripe") {
		t.Error("the cutting page of a print speaks of a stripe")
	}
	wants(t, "the cutting page", h.page(200, "/s/"+id+"/cutting?border=1&width=x&length=10"), "&#34;x&#34;", "fault", `value="x"`)
	wants(t, "the cutting page", h.page(200, "/s/"+id+"/cutting?border=9&width=1&length=10"), "lanterns")
}

// A striped border is offered the nearest widths whose seams fall on one line of
// the stripe; a touch takes one, and what was typed stays.
func TestTheFormOffersWidthsOnOneLineOfTheStripe(t *testing.T) {
	h := openHouse(t)
	form := url.Values{"title": {"Lanterns"}, "center.width": {"36 1/2"}, "center.length": {"48 1/2"},
		"borders[0].name": {"ticking"}, "borders[0].cut": {"5 1/2"}, "borders[0].stripe": {"1 1/8"}}
	// 4 and 5 repeats of 1 1/8 finish at 4 1/2 and 5 5/8: cut 5 and 6 1/8 (derived).
	preview := string(h.post("/new/preview", form).body)
	wants(t, "the preview", preview, `value="cut-1-5 in"`, `value="cut-1-6 1/8 in"`)

	form.Set("do", "cut-1-6 1/8 in")
	page := string(h.post("/new/edit", form).body)
	wants(t, "the form", page, `name="borders[0].cut" value="6 1/8 in"`, `name="title" value="Lanterns"`)
	if strings.Contains(page, `value="cut-1-`) {
		t.Error("the form: still offers widths when both seams lie on one line already")
	}
}

// The strips of an inner border may be cut shorter than the band: the form asks for borders
// that have another outside them, and the plan says it back.
func TestTheFormAsksHowLongInnerStripsAre(t *testing.T) {
	h := openHouse(t)
	form := url.Values{"title": {"Lanterns"}, "center.width": {"60 1/2"}, "center.length": {"80 1/2"},
		"borders[0].name": {"dark line"}, "borders[0].cut": {"1 1/2"}, "borders[0].lengths": {"least"},
		"borders[1].name": {"bank"}, "borders[1].cut": {"8 1/2"}, "do": {"add"}}
	page := string(h.post("/new/edit", form).body)
	wants(t, "the form", page, `name="borders[0].lengths"`, `<option value="least" selected>`, `name="borders[1].lengths"`)
	if strings.Contains(page, `name="borders[2].lengths"`) {
		t.Error("the form asks for the outermost border too")
	}
	id := h.made(`{"title":"Lanterns","center":{"width":"60 1/2","length":"80 1/2"},"borders":[{"cut":"1 1/2","lengths":"least"},{"cut":"8 1/2"}]}`)
	snap, err := h.store.Get(id)
	if err != nil {
		t.Fatal(err)
	}
	if got := snap.Work.Sheet.Strips[0].CutLength.Shown(); got != "87 1/4 in" {
		t.Errorf("the inner strip of the sides is cut %s; want 87 1/4 in", got)
	}
}

// Of a print with a direction the sheet has the way that its heads ask for, and the cutting page
// says how its fabric is laid.
func TestTheSheetAndTheCuttingPageOfAOneWayPrint(t *testing.T) {
	h := openHouse(t)
	id := h.made(`{"title":"Gull pier","center":{"width":"60","length":"80"},"borders":[
		{"name":"reeds","cut":"2 1/2","fabric":{"way":"one-way","heads":"outwards"}},
		{"name":"gulls","cut":"6 1/2","fabric":{"way":"one-way","heads":"up"}}]}`)
	snap, err := h.store.Get(id)
	if err != nil {
		t.Fatal(err)
	}
	mixed := snap.Work.Sheet.Fabric[1].Mixed
	wants(t, "the sheet", h.page(200, "/s/"+id+"/sheet"), "sides lengthwise, others crosswise", mixed.Buy.Shown(), "heads along the selvage")
	wants(t, "the cutting page", h.page(200, "/s/"+id+"/cutting"), "lay it with the heads to the squared end", "lay it with the heads away from the squared end",
		"usable width 40 in or more, sides lengthwise, others crosswise.", "the heads of its print up", "the heads of its print down")
	wants(t, "the form", h.page(200, "/s/"+id+"/plan"), `value="one-way" selected`, `value="up" selected`)
}
