package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden tables anew")

const onePlan = `{"title":"Harbour lanterns","center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2"}]}`

// plan is the command as it is typed, with what it prints.
func plan(stdin string, args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	noEnv := func(string) string { return "" }
	c := console{noEnv, strings.NewReader(stdin), &out, &errs}
	code = report(run(context.Background(), append([]string{"plan"}, args...), c), &errs)
	return code, out.String(), errs.String()
}

func TestPlanPrintsGoldenSheets(t *testing.T) {
	sheets, err := filepath.Glob("../../testdata/plans/*.sheet.json")
	if err != nil || len(sheets) < 5 {
		t.Fatalf("testdata/plans has %d golden sheets, %v; want at least 5", len(sheets), err)
	}
	for _, sheet := range sheets {
		name := strings.TrimSuffix(sheet, ".sheet.json")
		t.Run(filepath.Base(name), func(t *testing.T) {
			code, got, errs := plan("", name+".json")
			if code != 0 || errs != "" {
				t.Fatalf("plan %s.json exits %d and complains %q; want 0 and nothing", name, code, errs)
			}
			if *update {
				if err := os.WriteFile(name+".sheet.txt", []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			same(t, got, name+".sheet.txt")

			code, got, errs = plan("", "--json", name+".json")
			if code != 0 || errs != "" {
				t.Fatalf("plan --json %s.json exits %d and complains %q; want 0 and nothing", name, code, errs)
			}
			same(t, got, sheet)
		})
	}
}

func same(t *testing.T, got, golden string) {
	t.Helper()
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("what is printed is not %s:\n%s", golden, differing(string(want), got))
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

func TestPlanTakesItsArgumentsInAnyOrder(t *testing.T) {
	file := filepath.Join(t.TempDir(), "plan.json")
	if err := os.WriteFile(file, []byte("\ufeff"+onePlan), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{file, "--json"}, {"--json", file}, {"-json", file}, {"-", "--json"}, {"--json", "-"}, {"--json=true", "--", file}} {
		code, out, errs := plan(onePlan, args...)
		if code != 0 || errs != "" || !json.Valid([]byte(out)) || !strings.Contains(out, `"value": "36.5"`) {
			t.Errorf("plan %q exits %d, complains %q, prints\n%s\nwant the sheet as JSON", args, code, errs, out)
		}
	}
	if code, out, _ := plan(onePlan, "-"); code != 0 || json.Valid([]byte(out)) || !strings.HasPrefix(out, "Harbour lanterns\n") {
		t.Errorf("plan - exits %d, prints\n%s\nwant a table that begins with the title", code, out)
	}
	if code, out, _ := plan(onePlan, "-", "--how"); code != 0 || !strings.Contains(out, "48 1/2 + 2 × 6 1/2 + 4: the side") {
		t.Errorf("plan - --how exits %d, prints\n%s\nwant how the cut length of the sides comes about", code, out)
	}
	if code, out, _ := plan("", "--help"); code != 0 || out != planHelp {
		t.Errorf("plan --help exits %d, prints %q; want its help", code, out)
	}
}

func TestPlanThatCannotBeMade(t *testing.T) {
	code, out, errs := plan(`{"unit":"el","center":{"width":"x","length":"40"},"borders":[{"cut":"1/4"}]}`, "-", "--json")
	if code != 2 || out != "" {
		t.Errorf("exits %d, prints %q; want 2 and nothing", code, out)
	}
	lines := strings.Split(strings.TrimSuffix(errs, "\n"), "\n")
	fields := []string{"unit: ", "center.width: ", "borders[0].cut: "}
	if len(lines) != len(fields) {
		t.Fatalf("complains\n%swant a line for each of %q", errs, fields)
	}
	for i, field := range fields {
		if !strings.HasPrefix(lines[i], field) {
			t.Errorf("line %d is %q; want it to begin with %q", i+1, lines[i], field)
		}
	}
}

func TestPlanWithoutAPlanSaysWhatWouldDo(t *testing.T) {
	dir := t.TempDir()
	large := filepath.Join(dir, "large.json")
	if err := os.WriteFile(large, bytes.Repeat([]byte(" "), maxPlanFile+1), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		stdin string
		args  []string
		says  string
	}{
		{"no file named", "", nil, "name the FILE"},
		{"only a flag", "", []string{"--json"}, "name the FILE"},
		{"two files", "", []string{"a.json", "b.json"}, "takes one FILE, not 2"},
		{"in words and for programs at once", "", []string{"-", "--how", "--json"}, "leave it or --json out"},
		{"an option that is none", "", []string{"-", "--yaml"}, "no option --yaml"},
		{"a file that is not there", "", []string{filepath.Join(dir, "none.json")}, "there is no file"},
		{"a folder", "", []string{dir}, "is a folder"},
		{"a file too large", "", []string{large}, "larger than 1 MiB"},
		{"standard input too large", strings.Repeat(" ", maxPlanFile+1), []string{"-"}, "standard input is larger than 1 MiB"},
		{"nothing on standard input", "", []string{"-"}, "plan: can't be read as JSON"},
	} {
		code, out, errs := plan(c.stdin, c.args...)
		if code != 2 || out != "" || !strings.Contains(errs, c.says) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%s: exits %d, prints %q, complains %q; want 2, nothing, one line with %q", c.name, code, out, errs, c.says)
		}
	}
}

// full is a disk that is full.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestSheetThatCannotBeWrittenIsNotCalledDone(t *testing.T) {
	var errs bytes.Buffer
	c := console{nil, strings.NewReader(onePlan), full{}, &errs}
	code := report(run(context.Background(), []string{"plan", "-"}, c), &errs)
	if code != exitFailed || !strings.Contains(errs.String(), "can't be written") {
		t.Errorf("plan onto a full disk exits %d, complains %q; want 1 and that it failed", code, errs.String())
	}
}
