package calc_test

import (
	"encoding/json"
	"testing"

	"cornerwise/calc"
)

func TestAnEarlierNameOfAFieldIsNotWrittenAgain(t *testing.T) {
	for was, want := range map[string]string{
		`{"title":"A","borders":[{"cut":"5","cloth":{"runs":"crosswise"}},{"cut":5}]}`: `{"borders":[{"cut":"5","fabric":{"runs":"crosswise"}},{"cut":5}],"title":"A"}`,
		`{"borders":[{"cut":"5","fabric":{"name":"cloth"}}], "title":"B"}`:             `{"borders":[{"cut":"5","fabric":{"name":"cloth"}}], "title":"B"}`,
		`{"borders":[{"cloth":{},"fabric":{}}]}`:                                       `{"borders":[{"cloth":{},"fabric":{}}]}`,
		`{"cloth":1}`:                                                                  `{"cloth":1}`,
		`no plan`:                                                                      `no plan`,
	} {
		got := calc.Renamed(json.RawMessage(was))
		if string(got) != want {
			t.Errorf("Renamed(%s): got %s, want %s", was, got, want)
		}
	}
	// Both names give the same plan.
	plan := `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"5 1/2","cloth":{"usableWidth":"42"}}]}`
	old, err := calc.ParsePlan([]byte(plan))
	if err != nil {
		t.Fatal(err)
	}
	now, err := calc.ParsePlan(calc.Renamed(json.RawMessage(plan)))
	if err != nil || !now.Borders[0].Fabric.UsableWidth.Equal(old.Borders[0].Fabric.UsableWidth) {
		t.Errorf("renamed it is another plan: %+v, %v; was %+v", now.Borders, err, old.Borders)
	}
}
