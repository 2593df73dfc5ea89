package calc

// NearEdge is how far in from an edge of the center a measure near it is taken (cp): 4 in
// or 10 cm, less on a center whose shorter side is under five times that.
func NearEdge(p Plan) Figure {
	steps := []Length{Of(4, 1, Inch), Of(2, 1, Inch), Of(1, 1, Inch), Of(1, 2, Inch)}
	if p.Unit == Centimeter {
		steps = []Length{Of(10, 1, Centimeter), Of(5, 1, Centimeter), Of(2, 1, Centimeter), Of(1, 1, Centimeter)}
	}
	short := lesser(p.Pieced.Width, p.Pieced.Length)
	for _, in := range steps {
		if !short.Less(in.Times(5)) {
			return p.Unit.nearest(in)
		}
	}
	return p.Unit.nearest(short.Scale(Of(1, 1, Inch), Of(5, 1, Inch)))
}
