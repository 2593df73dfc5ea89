package steps_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"cornerwise/steps"
)

// directed is a plan of one border of a print that lies so.
func directed(fabric string) json.RawMessage {
	return json.RawMessage(fmt.Sprintf(`{"center":{"width":"24","length":"28"},"borders":[{"name":"gulls","cut":"3 1/2","fabric":{"usableWidth":"44"%s}}]}`, fabric))
}

func toward(heads string) json.RawMessage {
	return directed(`,"way":"one-way","heads":"` + heads + `"`)
}

// The steps say which end of a one-way fabric is squared, and which edge of each strip goes to
// the center, with the heads so.
func TestTheStepsSayWhereTheHeadsAre(t *testing.T) {
	for _, c := range []struct{ heads, tick, say string }{
		{"up", "fabric.1.squared", "cut the end at its heads square"},
		{"outwards", "fabric.1.squared", "cut the end at its feet square"},
		{"inwards", "fabric.1.squared", "cut the end at its heads square"},
		{"up", "cut.1.left.measured", "along the grain"},
		{"up", "cut.1.top.measured", "straight across the grain"},
		{"outwards", "cut.1.left.measured", "straight across the grain"},
		{"up", "cut.1.left.ready", "like a page, heads up. Chalk the edge toward the center: the left one. Write left on it."},
		{"up", "cut.1.right.ready", "like a page, heads up. Chalk the edge toward the center: the right one. Write right on it."},
		{"up", "cut.1.top.ready", "toward the center, at the feet. Write top on it."},
		{"up", "cut.1.bottom.ready", "toward the center, at the heads. Write bottom on it."},
		{"up", "sew.left.pinned", "Fold it open: all heads point up."},
		{"outwards", "sew.top.pinned", "Fold it open: all heads point outwards."},
		{"outwards", "cut.1.left.ready", "toward the center, at the feet."},
		{"inwards", "cut.1.bottom.ready", "toward the center, at the heads."},
	} {
		_, tick := begin(t, string(toward(c.heads))).Tick(c.tick)
		if tick == nil || !strings.Contains(tick.Say, c.say) {
			t.Errorf("heads %s: %s says %+v, want %q in it", c.heads, c.tick, tick, c.say)
		}
	}
	plain := begin(t, string(directed("")))
	for id, say := range map[string]string{
		"fabric.1.squared": "cut one end",
		"sew.left.pinned":  "Then pin between.",
	} {
		if _, tick := plain.Tick(id); tick == nil || !strings.HasSuffix(tick.Say, say) && !strings.Contains(tick.Say, say+" square") {
			t.Errorf("a print that lies both ways: %s says %q, want %q in it", id, tick.Say, say)
		}
	}
}

// Before a strip of a print with heads is cut, its middle is marked on the edge that will be its
// inner one: fabric lies with its right side and its heads up.
func TestTheMiddleOfAOneWayStripIsMarkedOnItsInnerEdge(t *testing.T) {
	for _, c := range []struct{ heads, edge, at string }{
		{"up", "left", "inner edge, heads up the right one, before you cut"},
		{"up", "right", "inner edge, heads up the left one, before you cut"},
		{"up", "top", "inner edge, at the feet, before you cut"},
		{"up", "bottom", "inner edge, at the heads, before you cut"},
		{"outwards", "left", "inner edge, at the feet, before you cut"},
		{"inwards", "top", "inner edge, at the heads, before you cut"},
	} {
		plan := strings.Replace(string(toward(c.heads)), `"cut":"3 1/2"`, `"cut":"3 1/2","motif":"2"`, 1)
		_, tick := begin(t, plan).Tick("cut.1." + c.edge + ".middle")
		if tick == nil || !strings.Contains(tick.Say, c.at) {
			t.Errorf("heads %s: the %s strip's middle: %+v, want %q in it", c.heads, c.edge, tick, c.at)
		}
	}
}

// Parts that are joined aslant may be turned round; of a one-way print that is looked at.
func TestJoinedPartsOfAOneWayPrintAreLookedAtForTheirHeads(t *testing.T) {
	plan := strings.Replace(string(toward("up")), `"width":"24"`, `"width":"44"`, 1)
	if _, tick := begin(t, plan).Tick("join.1.top.looked"); tick == nil || !strings.HasSuffix(tick.Say, "over every join, all heads point one way.") {
		t.Errorf("it says %+v", tick)
	}
}

// Two borders of prints that point otherwise are looked at by the plan.
func TestHeadsThatDifferAreLookedAtByThePlan(t *testing.T) {
	w := begin(t, `{"center":{"width":"24","length":"28"},"borders":[
		{"name":"reeds","cut":"2","fabric":{"way":"one-way","heads":"inwards"}},
		{"name":"gulls","cut":"3 1/2","fabric":{"way":"one-way","heads":"up"}}]}`)
	if _, tick := w.Tick("sew.left.pinned"); !strings.Contains(tick.Say, "all heads point as planned.") {
		t.Errorf("it says %q", tick.Say)
	}
}

// A print that turns out to have a direction, or to point elsewhere, opens what is otherwise now:
// strips cut the other way, and chalked edges.
func TestAnotherWayOpensWhatIsOtherwise(t *testing.T) {
	along := directed(`,"runs":"lengthwise"`)
	for _, c := range []struct {
		name         string
		from, to     json.RawMessage
		kept, opened string
		says         string
	}{
		{"cut along, heads outwards", along, toward("outwards"), "size.settled", "cut.1.left.cut", "It was done for a strip along the fabric; with heads outwards it is cut across the fabric."},
		{"cut along, heads up: the sides are", along, toward("up"), "cut.1.left.cut", "cut.1.top.cut", "with heads up it is cut across"},
		{"chalked outwards, heads inwards", toward("outwards"), toward("inwards"), "cut.1.left.cut", "cut.1.left.ready", "the edge toward the center may be the other one"},
		{"heads up, then outwards", toward("up"), toward("outwards"), "cut.1.top.cut", "cut.1.right.cut", "with heads outwards it is cut across"},
		{"no direction after all", toward("outwards"), directed(`,"runs":"crosswise"`), "cut.1.left.ready", "", ""},
	} {
		w := walk(t, begin(t, string(c.from)), "mark.left.middle")
		r, err := steps.Replanned(w, c.to)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if _, ok := fateOf(r.Kept, c.kept); !ok {
			t.Errorf("%s: %s does not stay: opened %+v", c.name, c.kept, r.Opened)
		}
		if f, ok := fateOf(r.Opened, c.opened); c.opened != "" && (!ok || !strings.Contains(f.Why, c.says)) {
			t.Errorf("%s: %s opens: %v with %q, want %q", c.name, c.opened, ok, f.Why, c.says)
		} else if c.opened == "" && len(r.Opened) > 0 {
			t.Errorf("%s: opens %+v", c.name, r.Opened)
		}
	}
}
