package steps_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"cornerwise/steps/draw"
)

// recordedPlans are the plans of all recorded sessions, as they ended.
func recordedPlans(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	files, err := filepath.Glob("../testdata/sessions/*/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no recordings: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var r struct{ Plan json.RawMessage }
		if err := json.Unmarshal(data, &r); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		all[string(r.Plan)] = string(r.Plan)
	}
	return all
}

// A row whose act the drawings do not know, or whose border is not there, is found here.
func TestEveryTickHasAPictureOfItsOwn(t *testing.T) {
	all := recordedPlans(t)
	for name, plan := range plans {
		all[name] = plan
	}
	for name, plan := range all {
		w := begin(t, plan)
		q := w.Quilt()
		drawn := map[string]string{}
		for _, id := range ids(w) {
			_, tick := w.Tick(id)
			if err := q.Check(tick.Scene); err != nil {
				t.Errorf("%s: %s: %v", name, id, err)
				continue
			}
			svg := q.Draw(tick.Scene)
			checkPicture(t, name+": "+id, svg)
			// Two borders of one name and one width may look alike.
			key := fmt.Sprint(tick.Scene.Border, svg)
			if other := drawn[key]; other != "" {
				t.Errorf("%s: %s shows the picture of %s: %s", name, id, other, labelOf(svg))
			}
			drawn[key] = id
		}
	}
}

// checkPicture looks for numbers that are none, and for words with something left out.
func checkPicture(t *testing.T, what, svg string) {
	t.Helper()
	for _, bad := range []string{"NaN", "Inf", "%!"} {
		if strings.Contains(svg, bad) {
			t.Errorf("%s: there is %s in the picture", what, bad)
		}
	}
	label := labelOf(svg)
	if label == "" || strings.Contains(label, " ,") || strings.Contains(label, "  ") || strings.Contains(label, " 0 long") || strings.Contains(label, " 0 wide") {
		t.Errorf("%s: the picture is described as %q", what, label)
	}
}

// What is wrong in a row is said by Check, and drawn as words, not as a broken picture.
func TestAnUnknownActIsRefused(t *testing.T) {
	q := begin(t, plans["two borders"]).Quilt()
	for name, scene := range map[string]draw.Scene{
		"no kind":                     {Act: "press"},
		"an unknown kind":             {Kind: "mitten", Act: "press"},
		"an unknown act":              {Kind: draw.CenterScene, Act: "fold"},
		"no act":                      {Kind: draw.CenterScene},
		"a strip of no border":        {Kind: draw.StripScene, Act: "cut", Edge: "left"},
		"a strip of a border too far": {Kind: draw.StripScene, Act: "cut", Edge: "left", Border: 3},
		"a seam after the last":       {Kind: draw.BandScene, Act: "sew", Edge: "left", Border: 2},
		"an edge that is none":        {Kind: draw.EdgeScene, Act: "pin", Edge: "middle"},
		"no corner":                   {Kind: draw.CornerScene, Act: "fold"},
		"a fifth corner":              {Kind: draw.CornerScene, Act: "fold", Corner: 5},
		"no pair":                     {Kind: draw.PairScene, Act: "choose"},
		"coping where there is none":  {Kind: draw.CopingScene, Act: "size"},
	} {
		if err := q.Check(scene); err == nil {
			t.Errorf("%s: Check found nothing wrong", name)
		}
		checkPicture(t, name, q.Draw(scene))
	}
}
