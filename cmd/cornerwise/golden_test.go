package main

import (
	"fmt"
	"strings"
	"testing"
)

// difference is the lines that want has and got has not (-), and the other way (+), each
// with its number: at most 40, for a person to read.
func difference(want, got string) string {
	const shown = 40
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	var lines []string
	for i, j := 0, 0; i < len(a) || j < len(b); {
		if i < len(a) && j < len(b) && a[i] == b[j] {
			i, j = i+1, j+1
			continue
		}
		gone, come := untilAlike(a[i:], b[j:])
		for ; gone > 0; gone, i = gone-1, i+1 {
			lines = append(lines, fmt.Sprintf("- %d: %s", i+1, a[i]))
		}
		for ; come > 0; come, j = come-1, j+1 {
			lines = append(lines, fmt.Sprintf("+ %d: %s", j+1, b[j]))
		}
	}
	if len(lines) > shown {
		lines = append(lines[:shown], "and more")
	}
	return strings.Join(lines, "\n")
}

// untilAlike is how many lines to leave out of each so that the next are alike: the
// fewest in all, at most 200.
func untilAlike(a, b []string) (gone, come int) {
	for sum := 1; sum <= 200; sum++ {
		for gone := 0; gone <= sum; gone++ {
			if come := sum - gone; gone < len(a) && come < len(b) && a[gone] == b[come] {
				return gone, come
			}
		}
	}
	return len(a), len(b)
}

func TestADifferenceIsShort(t *testing.T) {
	numbers := func(from, to int) string {
		var b strings.Builder
		for n := from; n < to; n++ {
			fmt.Fprintln(&b, n)
		}
		return b.String()
	}
	for _, c := range []struct{ name, want, got, says string }{
		{"alike", "a\nb\n", "a\nb\n", ""},
		{"another line", "a\nb\nc\n", "a\nx\nc\n", "- 2: b\n+ 2: x"},
		{"a line more", "a\nc\n", "a\nb\nc\n", "+ 2: b"},
		{"a line less", "a\nb\nc\n", "a\nc\n", "- 2: b"},
		{"two apart", "a\nb\nc\nd\n", "x\nb\nc\nd\ny\n", "- 1: a\n+ 1: x\n+ 5: y"},
		{"nothing printed", "a\n", "", "- 1: a"},
	} {
		if says := difference(c.want, c.got); says != c.says {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, says, c.says)
		}
	}
	long := difference(numbers(0, 9000), numbers(10000, 19000))
	if lines := strings.Split(long, "\n"); len(lines) != 41 || lines[0] != "- 1: 0" || lines[40] != "and more" {
		t.Errorf("9,000 lines of others: got %d lines, from %q to %q, want 40 and that there are more",
			len(lines), lines[0], lines[len(lines)-1])
	}
}
