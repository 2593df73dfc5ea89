package calc_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
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
				t.Errorf("the sheet of %s is not %s (-want +got):\n%s", path, golden, differing(string(want), got.String()))
			}
		})
	}
	if seen < 5 {
		t.Errorf("%d plans in testdata/plans; want at least 5", seen)
	}
}

// differing are the lines in which two texts differ, - as wanted and + as got, with what
// stands around them: at most 40.
func differing(want, got string) string {
	diff := strings.TrimSpace(cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")))
	lines := strings.Split(diff, "\n")
	if len(lines) > 40 {
		lines = append(lines[:39], fmt.Sprintf("… and %d lines more", len(lines)-39))
	}
	return strings.Join(lines, "\n")
}

func TestADifferenceIsToldInFewLines(t *testing.T) {
	var long []string
	for i := range 9000 {
		long = append(long, fmt.Sprint("line ", i))
	}
	other := append([]string{"one line more"}, long...)
	other[5000] = "another line"
	told := differing(strings.Join(long, "\n"), strings.Join(other, "\n"))
	for _, line := range []string{"one line more", "line 4999", "another line"} {
		if !strings.Contains(told, line) {
			t.Errorf("a line more and a line changed: told\n%s\nwant %q in it", told, line)
		}
	}
	if strings.Contains(told, "line 100\"") {
		t.Errorf("a line that is alike is told:\n%s", told)
	}
	all := differing(strings.Repeat("a\nb\n", 4500), strings.Repeat("c\nd\n", 4500))
	if n := strings.Count(all, "\n") + 1; n != 40 {
		t.Errorf("9,000 lines that differ are told in %d; want 40", n)
	}
}
