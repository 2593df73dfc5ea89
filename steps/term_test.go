package steps_test

import (
	"strings"
	"testing"

	"cornerwise/steps"
)

// Each term has an id and forms of its own, one short sentence, and a drawing.
func TestEveryTermIsSaidAndDrawn(t *testing.T) {
	q, ids, forms := steps.TermQuilt(), map[string]bool{}, map[string]string{}
	for _, x := range steps.Terms {
		if ids[x.ID] {
			t.Errorf("two terms have the id %s", x.ID)
		}
		ids[x.ID] = true
		if n := len(strings.Fields(x.Say)); n > 25 || !strings.HasSuffix(x.Say, ".") || strings.Count(x.Say, ". ") > 0 {
			t.Errorf("%s: %q has %d words, want one sentence of 25 at most", x.Word, x.Say, n)
		}
		if x.Forms[0] != x.Word {
			t.Errorf("%s: its first form is %q", x.Word, x.Forms[0])
		}
		for _, form := range x.Forms {
			if was := forms[form]; was != "" || form != strings.ToLower(form) {
				t.Errorf("the form %q of %s is also of %q, or not in small letters", form, x.Word, was)
			}
			forms[form] = x.Word
		}
		if err := q.Check(x.Scene); err != nil {
			t.Errorf("%s: %v", x.Word, err)
		} else if pic := q.Draw(x.Scene); !strings.Contains(pic, "<svg") {
			t.Errorf("%s has no drawing", x.Word)
		}
	}
}
