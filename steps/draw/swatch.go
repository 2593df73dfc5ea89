package draw

import (
	"fmt"
	"html"
	"strings"

	"cornerwise/calc"
)

// Swatch is a scrap of striped fabric, two repeats of its lines, 120 × 64: the inner
// edge of the strip at its foot. It needs no Defs. Without lines it is "".
func Swatch(lines []calc.Line, repeat calc.Length) string {
	if len(lines) == 0 || repeat.Sign() <= 0 {
		return ""
	}
	const wide, high = 120.0, 64.0
	k := high / 2 / in(repeat)
	var names []string
	for _, l := range lines {
		name := l.Name
		if name == "" {
			name = l.Color
		}
		names = append(names, name)
	}
	one := lined(lines, wide, 1/k)
	up := func(n float64) string { // a repeat, its lines from the foot up
		return fmt.Sprintf(`<g transform="matrix(1 0 0 %s 0 %s)">%s</g>`, num(-k, 4), num(high-n*high/2, 1), one)
	}
	return fmt.Sprintf(`<svg class="swatch" viewBox="0 0 %g %g" preserveAspectRatio="none" role="img" aria-label="%s">%s%s<path class="rawthin" d="M1 1H%gV%gH1Z"/></svg>`,
		wide, high, html.EscapeString("Stripe of "+strings.Join(names, ", ")), up(0), up(1), wide-1, high-1)
}
