// Plaintext writes the README for who has the program and nothing else, as text for any editor:
// from its beginning to the first heading with the word Go in it, where it goes on for those who
// have that. Pictures are left out, and what stands as code is in quotation marks.
//
//	plaintext <README.md >README.txt
package main

import (
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"
	"unicode/utf8"
)

func main() {
	source, err := io.ReadAll(os.Stdin)
	if err == nil {
		_, err = os.Stdout.WriteString(text(string(source)))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "plaintext:", err)
		os.Exit(1)
	}
}

const width = 76

var (
	heading = regexp.MustCompile(`^(#+) (.*)$`)
	withGo  = regexp.MustCompile(`\bGo\b`)
	item    = regexp.MustCompile(`^\s*([-*]|\d+\.) (.*)$`)
	image   = regexp.MustCompile(`!\[[^\]]*\]\([^)]*\)`)
	outside = regexp.MustCompile(`\[([^\]]*)\]\((https?://[^)]*)\)`)
	inside  = regexp.MustCompile(`\[([^\]]*)\]\([^)]*\)`)
	strong  = regexp.MustCompile(`\*\*([^*]+)\*\*|\*([^*\s][^*]*)\*`)
	blanks  = regexp.MustCompile(`\n{3,}`)
)

// text takes each line of the source for a whole paragraph, item or row, as the README has it.
func text(source string) string {
	var b strings.Builder
	code, row := false, 0
	for line := range strings.Lines(source) {
		line = strings.TrimRight(line, "\n")
		if row++; !strings.HasPrefix(line, "|") {
			row = 0
		}
		h, i := heading.FindStringSubmatch(line), item.FindStringSubmatch(line)
		switch {
		case strings.HasPrefix(line, "```"):
			code = !code
		case code:
			fmt.Fprintf(&b, "    %s\n", line)
		case h != nil && withGo.MatchString(h[2]):
			return tidy(b.String())
		case h != nil:
			said := plain(h[2])
			fmt.Fprintf(&b, "\n%s\n", said)
			if under := map[string]string{"#": "=", "##": "-"}[h[1]]; under != "" {
				fmt.Fprintln(&b, strings.Repeat(under, utf8.RuneCountInString(said)))
			}
		case row == 1 || row == 2: // the names of a table's columns, and the line under them
		case row > 2:
			first, rest, _ := strings.Cut(strings.Trim(line, "| "), " | ")
			fmt.Fprintf(&b, "  %s\n", plain(first))
			wrap(&b, "      ", "      ", plain(strings.ReplaceAll(rest, " | ", "; ")))
		case i != nil:
			wrap(&b, "  "+i[1]+" ", strings.Repeat(" ", 3+len(i[1])), plain(i[2]))
		case strings.HasPrefix(line, "<"): // a remark, or a mark of HTML
		default:
			wrap(&b, "", "", plain(line))
		}
	}
	return tidy(b.String())
}

// plain is a line without marks.
func plain(line string) string {
	parts := strings.Split(image.ReplaceAllString(line, ""), "`")
	for i, part := range parts {
		if i%2 == 1 {
			if !strings.Contains(part, `"`) {
				parts[i] = `"` + part + `"`
			}
			continue
		}
		part = outside.ReplaceAllString(part, "$1 ($2)")
		part = inside.ReplaceAllString(part, "$1")
		parts[i] = strong.ReplaceAllString(part, "$1$2")
	}
	return strings.TrimSpace(strings.Join(parts, ""))
}

// wrap writes words in lines, the first after one indent and the others after another.
func wrap(b *strings.Builder, first, other, words string) {
	line := first
	for i, word := range strings.Fields(words) {
		switch {
		case i == 0:
			line += word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width:
			fmt.Fprintln(b, line)
			line = other + word
		default:
			line += " " + word
		}
	}
	fmt.Fprintln(b, strings.TrimRight(line, " "))
}

func tidy(said string) string {
	return strings.TrimSpace(blanks.ReplaceAllString(said, "\n\n")) + "\n"
}
