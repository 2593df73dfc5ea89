package web_test

import (
	"net/url"
	"strings"
	"testing"
)

const stripedPlan = `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[
	{"name":"dark line","cut":"1 1/2","cloth":{"name":"indigo"}},
	{"name":"ticking","cut":"5 1/2","stripe":"1 1/8"},
	{"name":"edge","cut":"2","cloth":{"name":"indigo","usableWidth":"42"}}]}`

func TestTheSheetTellsWhatToBuyAndWhereToCut(t *testing.T) {
	h := openHouse(t)
	id := h.made(stripedPlan)
	snap, err := h.store.Get(id)
	if err != nil {
		t.Fatal(err)
	}
	sheet := snap.Work.Sheet
	page := h.page(200, "/s/"+id+"/sheet")
	wants(t, "the sheet", page, "Cloth to buy", "ticking: where to cut", "indigo: where to cut", "2 ticking, left", "1 dark line, bottom",
		sheet.Cloth[1].Picked().Buy.Shown(), sheet.Together[0].Picked().Buy.Shown())
	if strings.Contains(page, "dark line: where to cut") {
		t.Error("the sheet: a border of a shared cloth has a layout of its own beside the shared one")
	}
	list := string(h.call("GET", "/s/"+id+"/shopping", "").body)
	wants(t, "the shopping list", list, "Harbour lanterns: cloth to buy",
		"- ticking: "+sheet.Cloth[1].Picked().Buy.Shown()+", usable width 40 in or more, strips "+sheet.Cloth[1].Pick,
		"- indigo: "+sheet.Together[0].Picked().Buy.Shown()+", usable width 40 in or more, strips "+sheet.Together[0].Pick)
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
