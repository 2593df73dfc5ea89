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
		{"up", "cut.1.left.ready", "like a page, heads up. Chalk the edge toward the center: the left one."},
		{"up", "cut.1.right.ready", "like a page, heads up. Chalk the edge toward the center: the right one."},
		{"up", "cut.1.top.ready", "toward the center, at the feet."},
		{"up", "cut.1.bottom.ready", "toward the center, at the heads."},
		{"outwards", "cut.1.left.ready", "toward the center, at the feet."},
		{"inwards", "cut.1.bottom.ready", "toward the center, at the heads."},
	} {
		_, tick := begin(t, string(toward(c.heads))).Tick(c.tick)
		if tick == nil || !strings.Contains(tick.Say, c.say) {
			t.Errorf("heads %s: %s says %+v, want %q in it", c.heads, c.tick, tick, c.say)
		}
	}
	_, tick := begin(t, string(directed(""))).Tick("fabric.1.squared")
	if !strings.Contains(tick.Say, "cut one end square") {
		t.Errorf("a print that lies both ways: %q", tick.Say)
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
