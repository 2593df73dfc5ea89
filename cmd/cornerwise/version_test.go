package main

import (
	"io"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

func TestTheVersionIsToldOnRequestAndOnTheFoot(t *testing.T) {
	code, said, errs := once(nil, "--version")
	found := regexp.MustCompile(`^cornerwise (.+?)(?:, commit [0-9a-f]{40})?\ngo\S+, \w+/\w+\n$`).FindStringSubmatch(said)
	if code != 0 || errs != "" || found == nil {
		t.Fatalf("--version: exit %d, %q and %q, want 0 and what this was made of", code, said, errs)
	}
	s := start(t, t.TempDir())
	res, err := http.Get(s.url)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	home, err := io.ReadAll(res.Body)
	if err != nil || !strings.Contains(string(home), "Cornerwise "+found[1]+"<") {
		t.Errorf("the first page: got %v %s, want %q on its foot", err, home, found[1])
	}
}
