package web

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"cornerwise/steps"
)

// said is what static/spoken.js makes of texts.
func said(t *testing.T, texts []string) (all []string) {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no node found; .ci/test installs it")
		}
		t.Skip("no node found; install nodejs, or run .ci/test")
	}
	in, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "../../testdata/spoken/run.js", "../../static/spoken.js")
	cmd.Stdin = bytes.NewReader(in)
	var fault bytes.Buffer
	cmd.Stderr = &fault
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v\n%s", cmd, err, fault.String())
	}
	if err := json.Unmarshal(out, &all); err != nil || len(all) != len(texts) {
		t.Fatalf("%d texts: got %d said, %v", len(texts), len(all), err)
	}
	return all
}

func TestLengthsAreSaidAsPeopleSayThem(t *testing.T) {
	cases := [][2]string{
		{"35 1/2 in", "thirty-five and a half inches"},
		{"5/16 in", "five sixteenths of an inch"},
		{"1 3/8", "one and three eighths"},
		{"1 3/8 in", "one and three eighths inches"},
		{"92.7 cm", "ninety-two point seven centimeters"},
		{"92,7 cm", "ninety-two point seven centimeters"},
		{"45°", "forty-five degrees"},
		{"40.6°", "forty point six degrees"},
		{"45.0°", "forty-five degrees"},
		{"2 × 3", "2 by 3"},

		{"1/2 in", "half an inch"},
		{"1/4 in", "a quarter of an inch"},
		{"3/4 in", "three quarters of an inch"},
		{"1/8 in", "an eighth of an inch"},
		{"7/8 in", "seven eighths of an inch"},
		{"1/16 in", "a sixteenth of an inch"},
		{"15/16 in", "fifteen sixteenths of an inch"},
		{"1/3 yd", "a third of a yard"},
		{"2 2/3 yd", "two and two thirds yards"},
		{"36 1/4 in", "thirty-six and a quarter inches"},
		{"36 1/8 in", "thirty-six and an eighth inches"},
		{"36 11/16 in", "thirty-six and eleven sixteenths inches"},
		{"3/7", "three over seven"},

		{"1 in", "one inch"},
		{"1 yd", "one yard"},
		{"1.0 cm", "one centimeter"},
		{"1 mm", "one millimeter"},
		{"2 m", "two meters"},
		{"0 in", "zero inches"},
		{"0 cm", "zero centimeters"},
		{"0.75 cm", "zero point seven five centimeters"},
		{"2.0 mm", "two millimeters"},
		{"12.05 cm", "twelve point zero five centimeters"},
		{"−1/4 in", "minus a quarter of an inch"},
		{"100 in", "one hundred inches"},
		{"123.2 cm", "one hundred twenty-three point two centimeters"},
		{"1210 mm", "one thousand two hundred ten millimeters"},
		{"5 %", "five percent"},
		{"1%", "one percent"},
		{"1/2 %", "half a percent"},

		{"35 1/2 × 47 in", "thirty-five and a half by forty-seven inches"},
		{"36 × 48 in", "thirty-six by forty-eight inches"},
		{"36 1/2 in × 48 1/2 in", "thirty-six and a half by forty-eight and a half inches"},
		{"5 in × 1 in", "five by one inch"},
		{"11.5 cm × 140 cm", "eleven point five by one hundred forty centimeters"},

		{"Corner 2, top right", "Corner 2, top right"},
		{"Measure corner 1 to 3", "Measure corner 1 to 3"},
		{"11th, 11 1/4 in past the 1st", "11th, eleven and a quarter inches past the 1st"},
		{"Ruler's 45-degree line on the stitching.", "Ruler's 45-degree line on the stitching."},
		{"Choose one line: 1/8 in into the navy.", "Choose one line: an eighth of an inch into the navy."},
		{"Sew strips, cut 1 1/2 in wide.", "Sew strips, cut one and a half inches wide."},
		{"They miss by 1 in.", "They miss by one inch."},
		{"Count them in and out.", "Count them in and out."},
		{"1/8 in for each 40 in", "an eighth of an inch for each forty inches"},
		{"", ""},
	}
	var texts []string
	for _, c := range cases {
		texts = append(texts, c[0])
	}
	for i, got := range said(t, texts) {
		if want := cases[i][1]; got != want {
			t.Errorf("%q: said %q, want %q", cases[i][0], got, want)
		}
	}
}

// Of all that steps say, no length is left as it is written.
func TestNothingThatStepsShowIsSaidAsWritten(t *testing.T) {
	var texts []string
	for _, plan := range []string{"harbour-lanterns", "thin-sides", "reed-bank", "twelve-borders"} {
		data, err := os.ReadFile("../../testdata/plans/" + plan + ".json")
		if err != nil {
			t.Fatal(err)
		}
		w, err := steps.Begin(data)
		if err != nil {
			t.Fatal(err)
		}
		for _, stage := range w.Stages {
			for _, step := range stage.Steps {
				texts = append(texts, step.Title)
				for _, tick := range step.Ticks {
					texts = append(texts, tick.Title, tick.Say, tick.Number)
					for _, n := range tick.Numbers {
						texts = append(texts, n.Name, n.Text)
					}
				}
			}
		}
	}
	written := regexp.MustCompile(`[0-9]/[0-9]|[0-9] ?(in|cm|mm|yd)\b|[×°%]`)
	found := 0
	for i, got := range said(t, texts) {
		if written.MatchString(texts[i]) {
			found++
		}
		if written.MatchString(got) || strings.Contains(got, "undefined") {
			t.Errorf("%q is said %q", texts[i], got)
		}
	}
	if found < 100 {
		t.Errorf("%d of %d texts have a length, want more", found, len(texts))
	}
}
