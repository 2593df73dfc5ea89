package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"cornerwise/calc"
)

// The most that a page asks for while someone types, and the most that there is.
func BenchmarkSheet(b *testing.B) {
	for _, c := range []struct{ name, plan string }{
		{"one border", `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2"}]}`},
		{"four borders with fabric, stripe and motif", fourBorders},
		{"four borders of one fabric", fourTogether},
		{"four borders of one print, joined", fourPrinted},
		{"twelve borders of one fabric", twelveTogether},
		{"twelve borders of one print, wider on top and bottom", twelvePrinted},
		{"twelve borders of one print, each strip of its own length", twelveLeast},
		{"four strips of 28 parts", `{"center":{"width":"1000","length":"974"},"spare":"2","borders":[{"cut":"3 278/9260","fabric":{"usableWidth":"36 1/2"}}]}`},
	} {
		p, err := calc.ParsePlan([]byte(c.plan))
		if err != nil {
			b.Fatal(err)
		}
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				calc.NewSheet(p)
			}
		})
	}
}

// twelveLeast has 24 lengths on one printed fabric: more ways to fill a column than can be
// listed, and more orders in it than can be tried.
var twelveLeast = func() string {
	var all []string
	for i := range 12 {
		all = append(all, fmt.Sprintf(`{"cut":"%d/8","cutTopBottom":"%d/8","lengths":"least","motif":"5","stripe":"1 1/4",
			"fabric":{"name":"one","usableWidth":"42","runs":"lengthwise"}}`, 12+7*i%33, 12+5*i%31))
	}
	return `{"center":{"width":"40","length":"60"},"borders":[` + strings.Join(all, ",") + `]}`
}()

const (
	fourBorders = `{"center":{"width":"60 1/2","length":"81 3/8"},"borders":[
		{"cut":"1 1/2","fabric":{"usableWidth":"42"}},
		{"cut":"3 1/4","cutTopBottom":"4","stripe":"7/8","fabric":{"usableWidth":"54"}},
		{"cut":"5 1/2","cutTopBottom":"4 3/4","motif":"6 1/3","fabric":{"usableWidth":"108"}},
		{"cut":"6 1/2","stripe":"2 1/8","motif":"9","fabric":{"usableWidth":"118","join":"straight"}}]}`
	fourTogether = `{"center":{"width":"60 1/2","length":"81 3/8"},"borders":[
		{"cut":"1 1/2","fabric":{"name":"reed"}},
		{"cut":"3 1/4","cutTopBottom":"4","fabric":{"name":"reed"}},
		{"cut":"5 1/2","cutTopBottom":"4 3/4","fabric":{"name":"reed"}},
		{"cut":"6 1/2","fabric":{"name":"reed"}}]}`
	fourPrinted = `{"center":{"width":"60 1/2","length":"81 3/8"},"borders":[
		{"cut":"1 1/2","stripe":"5/8","motif":"7 1/3","fabric":{"name":"reed","join":"diagonal"}},
		{"cut":"3 1/4","stripe":"5/8","motif":"7 1/3","fabric":{"name":"reed","join":"diagonal"}},
		{"cut":"5 1/2","stripe":"5/8","motif":"7 1/3","fabric":{"name":"reed","join":"diagonal"}},
		{"cut":"6 1/2","stripe":"5/8","motif":"7 1/3","fabric":{"name":"reed","join":"diagonal"}}]}`
	twelveTogether = `{"center":{"width":"24 1/2","length":"31 1/3"},"borders":[
		{"cut":"1","fabric":{"name":"fence"}},{"cut":"1 1/4","cutTopBottom":"1 3/8","fabric":{"name":"fence"}},{"cut":"1 1/2","fabric":{"name":"fence"}},
		{"cut":"1 3/4","fabric":{"name":"fence"}},{"cut":"2","cutTopBottom":"2 1/8","fabric":{"name":"fence"}},{"cut":"2 1/4","fabric":{"name":"fence"}},
		{"cut":"2 1/2","fabric":{"name":"fence"}},{"cut":"2 3/4","cutTopBottom":"2 5/8","fabric":{"name":"fence"}},{"cut":"3","fabric":{"name":"fence"}},
		{"cut":"1 1/8","fabric":{"name":"fence"}},{"cut":"1 7/8","fabric":{"name":"fence"}},{"cut":"5","fabric":{"name":"fence"}}]}`
	twelvePrinted = `{"center":{"width":"24 1/2","length":"31 1/3"},"borders":[
		{"cut":"1","motif":"6","fabric":{"name":"fence","usableWidth":"108"}},{"cut":"1 1/4","motif":"6","cutTopBottom":"3 3/8","fabric":{"name":"fence","usableWidth":"108"}},{"cut":"1 1/2","motif":"6","fabric":{"name":"fence","usableWidth":"108"}},
		{"cut":"1 3/4","motif":"6","fabric":{"name":"fence","usableWidth":"108"}},{"cut":"2","motif":"6","cutTopBottom":"2 1/8","fabric":{"name":"fence","usableWidth":"108"}},{"cut":"2 1/4","motif":"6","fabric":{"name":"fence","usableWidth":"108"}},
		{"cut":"2 1/2","motif":"6","fabric":{"name":"fence","usableWidth":"108"}},{"cut":"2 3/4","motif":"6","cutTopBottom":"2 5/8","fabric":{"name":"fence","usableWidth":"108"}},{"cut":"3","motif":"6","fabric":{"name":"fence","usableWidth":"108"}},
		{"cut":"1 1/8","motif":"6","fabric":{"name":"fence","usableWidth":"108"}},{"cut":"1 7/8","motif":"6","fabric":{"name":"fence","usableWidth":"108"}},{"cut":"5","motif":"6","stripe":"1 1/8","fabric":{"name":"fence","usableWidth":"108"}}]}`
)
