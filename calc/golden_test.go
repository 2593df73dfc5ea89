package calc_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden sheets anew")

// The plans in testdata and their sheets; testdata/README.md reckons them by hand.
func TestGoldenSheets(t *testing.T) {
	plans, err := filepath.Glob("../testdata/plans/*.json")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, path := range plans {
		if strings.HasSuffix(path, ".sheet.json") {
			continue
		}
		seen++
		t.Run(strings.TrimSuffix(filepath.Base(path), ".json"), func(t *testing.T) {
			plan, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			var got bytes.Buffer
			enc := json.NewEncoder(&got)
			enc.SetEscapeHTML(false)
			enc.SetIndent("", "  ")
			if err := enc.Encode(sheetOf(t, string(plan))); err != nil {
				t.Fatal(err)
			}
			golden := strings.TrimSuffix(path, ".json") + ".sheet.json"
			if *update {
				if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got.Bytes(), want) {
				t.Errorf("the sheet of %s is not %s; got\n%s", path, golden, got.Bytes())
			}
		})
	}
	if seen < 5 {
		t.Errorf("%d plans in testdata/plans; want at least 5", seen)
	}
}
