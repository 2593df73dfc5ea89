package web_test

import (
	"net/url"
	"strings"
	"testing"

	"cornerwise/calc"
)

// Where strips are joined the form says so beside their width, with what would spare the joins.
// Each figure is the sheet's, of the plan that does as it says.
func TestTheFormTellsWhatSparesJoins(t *testing.T) {
	h := openHouse(t)
	plan := func(runs, width, length string) calc.Sheet {
		p, err := calc.ParsePlan([]byte(`{"center": {"width": "` + width + `", "length": "` + length + `"},
			"borders": [{"name": "water", "cut": "3", "fabric": {"runs": "` + runs + `"}}]}`))
		if err != nil {
			t.Fatal(err)
		}
		return calc.NewSheet(p)
	}
	form := url.Values{"unit": {"in"}, "center.width": {"34"}, "center.length": {"33"},
		"borders[0].name": {"water"}, "borders[0].cut": {"3"}, "borders[0].fabric.runs": {"crosswise"}}

	now, along := plan("crosswise", "34", "33"), plan("lengthwise", "34", "33")
	if now.Fabric[0].Crosswise.Join == "" {
		t.Fatal("the plan's strips are not joined")
	}
	if got := now.Strips[1].CutLength.Exactly(); got != "44 in" {
		t.Fatalf("the longest strip: got %s, want 44 in: 34, two bands of 3 and 4 to spare", got)
	}
	more := along.Fabric[0].Lengthwise.Buy.Length.Sub(now.Fabric[0].Crosswise.Buy.Length)
	wants(t, "the preview", string(h.post("/new/preview", form).body), "<i hidden data-beside=\"borders[0].cut\">"+
		"Strips are joined: one width of fabric gives 40 in, the longest strip takes 44 in. For strips in one, "+
		"cut lengthwise and buy "+along.Fabric[0].Lengthwise.Buy.Exactly()+", "+
		calc.Figure{Length: more, Unit: calc.Inch, Rounding: calc.FabricUp}.Exactly()+" more; "+
		"or make the center 4 in narrower and 3 in shorter.</i>")

	if smaller := plan("crosswise", "30", "30"); smaller.Fabric[0].Crosswise.Join != "" {
		t.Error("of the smaller center the strips are joined still")
	}
	form.Set("center.width", "30")
	form.Set("center.length", "30")
	if page := string(h.post("/new/preview", form).body); strings.Contains(page, "Strips are joined") {
		t.Error("strips in one are said to be joined")
	}

	// Of strips that fit one width the joins save fabric; what strips in one take is told.
	saving := plan("crosswise", "16", "16")
	if saving.Fabric[0].Crosswise.Join == "" {
		t.Fatal("strips of 26 in are not joined")
	}
	p, err := calc.ParsePlan([]byte(`{"center": {"width": "16", "length": "16"},
		"borders": [{"name": "water", "cut": "3", "fabric": {"runs": "crosswise", "join": "none"}}]}`))
	if err != nil {
		t.Fatal(err)
	}
	form.Set("center.width", "16")
	form.Set("center.length", "16")
	wants(t, "the preview of joins that save", string(h.post("/new/preview", form).body),
		"Strips are joined to save fabric. For strips in one, set joins to none and buy "+
			calc.NewSheet(p).Fabric[0].Crosswise.Buy.Exactly()+"; or")

	// Nobody makes another quilt to spare a join.
	form.Set("center.width", "60")
	form.Set("center.length", "70")
	if page := string(h.post("/new/preview", form).body); strings.Contains(page, "make the center") {
		t.Error("a center of 60 in is to become one of 30 in")
	}
}

// What a beginner does not need is folded away, and open where it holds something.
func TestTheFormOpensWhatHoldsAValueOrAFault(t *testing.T) {
	h := openHouse(t)
	fresh := h.page(200, "/new")
	wants(t, "a new plan", fresh, `<details id="copes">`, `<details id="seams">`, `<details id="limits">`)
	form := url.Values{"unit": {"in"}, "coping.cut": {"1"}, "spare": {"6"}, "limits.apart": {"x"}}
	wants(t, "a plan with these", string(h.post("/new", form).body),
		`<details id="copes" open>`, `<details id="seams" open>`, `<details id="limits" open>`)
}
