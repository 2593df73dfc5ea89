package calc_test

import (
	"testing"

	"cornerwise/calc"
)

// The most that a page asks for while someone types, and the most that there is.
func BenchmarkSheet(b *testing.B) {
	for _, c := range []struct{ name, plan string }{
		{"one border", `{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2"}]}`},
		{"four borders with cloth, stripe and motif", fourBorders},
		{"four borders of one cloth", fourTogether},
		{"four borders of one print, joined", fourPrinted},
		{"twelve borders of one cloth", twelveTogether},
		{"twelve borders of one print, wider on top and bottom", twelvePrinted},
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

const (
	fourBorders = `{"center":{"width":"60 1/2","length":"81 3/8"},"borders":[
		{"cut":"1 1/2","cloth":{"usableWidth":"42"}},
		{"cut":"3 1/4","cutTopBottom":"4","stripe":"7/8","cloth":{"usableWidth":"54"}},
		{"cut":"5 1/2","cutTopBottom":"4 3/4","motif":"6 1/3","cloth":{"usableWidth":"108"}},
		{"cut":"6 1/2","stripe":"2 1/8","motif":"9","cloth":{"usableWidth":"118","join":"straight"}}]}`
	fourTogether = `{"center":{"width":"60 1/2","length":"81 3/8"},"borders":[
		{"cut":"1 1/2","cloth":{"name":"reed"}},
		{"cut":"3 1/4","cutTopBottom":"4","cloth":{"name":"reed"}},
		{"cut":"5 1/2","cutTopBottom":"4 3/4","cloth":{"name":"reed"}},
		{"cut":"6 1/2","cloth":{"name":"reed"}}]}`
	fourPrinted = `{"center":{"width":"60 1/2","length":"81 3/8"},"borders":[
		{"cut":"1 1/2","stripe":"5/8","motif":"7 1/3","cloth":{"name":"reed","join":"diagonal"}},
		{"cut":"3 1/4","stripe":"5/8","motif":"7 1/3","cloth":{"name":"reed","join":"diagonal"}},
		{"cut":"5 1/2","stripe":"5/8","motif":"7 1/3","cloth":{"name":"reed","join":"diagonal"}},
		{"cut":"6 1/2","stripe":"5/8","motif":"7 1/3","cloth":{"name":"reed","join":"diagonal"}}]}`
	twelveTogether = `{"center":{"width":"24 1/2","length":"31 1/3"},"borders":[
		{"cut":"1","cloth":{"name":"fence"}},{"cut":"1 1/4","cutTopBottom":"1 3/8","cloth":{"name":"fence"}},{"cut":"1 1/2","cloth":{"name":"fence"}},
		{"cut":"1 3/4","cloth":{"name":"fence"}},{"cut":"2","cutTopBottom":"2 1/8","cloth":{"name":"fence"}},{"cut":"2 1/4","cloth":{"name":"fence"}},
		{"cut":"2 1/2","cloth":{"name":"fence"}},{"cut":"2 3/4","cutTopBottom":"2 5/8","cloth":{"name":"fence"}},{"cut":"3","cloth":{"name":"fence"}},
		{"cut":"1 1/8","cloth":{"name":"fence"}},{"cut":"1 7/8","cloth":{"name":"fence"}},{"cut":"5","cloth":{"name":"fence"}}]}`
	twelvePrinted = `{"center":{"width":"24 1/2","length":"31 1/3"},"borders":[
		{"cut":"1","motif":"6","cloth":{"name":"fence","usableWidth":"108"}},{"cut":"1 1/4","motif":"6","cutTopBottom":"3 3/8","cloth":{"name":"fence","usableWidth":"108"}},{"cut":"1 1/2","motif":"6","cloth":{"name":"fence","usableWidth":"108"}},
		{"cut":"1 3/4","motif":"6","cloth":{"name":"fence","usableWidth":"108"}},{"cut":"2","motif":"6","cutTopBottom":"2 1/8","cloth":{"name":"fence","usableWidth":"108"}},{"cut":"2 1/4","motif":"6","cloth":{"name":"fence","usableWidth":"108"}},
		{"cut":"2 1/2","motif":"6","cloth":{"name":"fence","usableWidth":"108"}},{"cut":"2 3/4","motif":"6","cutTopBottom":"2 5/8","cloth":{"name":"fence","usableWidth":"108"}},{"cut":"3","motif":"6","cloth":{"name":"fence","usableWidth":"108"}},
		{"cut":"1 1/8","motif":"6","cloth":{"name":"fence","usableWidth":"108"}},{"cut":"1 7/8","motif":"6","cloth":{"name":"fence","usableWidth":"108"}},{"cut":"5","motif":"6","stripe":"1 1/8","cloth":{"name":"fence","usableWidth":"108"}}]}`
)
