package draw

// A Layer is a piece of fabric as it was laid: Frame maps the quilt's places to the drawing's.
type Layer struct {
	Part    string
	Border  int
	Frame   [6]float64
	Outline [][2]float64 // in the quilt's places
	Loupe   int
}

// At maps a place of the quilt to the drawing.
func (l Layer) At(x, y float64) [2]float64 {
	f := frame{l.Frame[0], l.Frame[1], l.Frame[2], l.Frame[3], l.Frame[4], l.Frame[5]}
	to := f.at(x, y)
	return [2]float64{to.x, to.y}
}

// Wrong tells whether its frame mirrors.
func (l Layer) Wrong() bool { return l.Frame[0]*l.Frame[3]-l.Frame[1]*l.Frame[2] < 0 }

// LayersOf are the pieces of a scene, in the order in which they are laid.
func (q Quilt) LayersOf(s Scene) []Layer {
	p := newPen()
	q.drawOn(p, s)
	var all []Layer
	for _, l := range p.layers {
		one := Layer{Part: l.part, Border: l.border, Frame: [6]float64{l.at.a, l.at.b, l.at.c, l.at.d, l.at.e, l.at.f}, Loupe: l.loupe}
		for _, at := range l.outline {
			one.Outline = append(one.Outline, [2]float64{at.x, at.y})
		}
		all = append(all, one)
	}
	return all
}
