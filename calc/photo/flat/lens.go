package flat

// The lens is taken to bend by one coefficient: a place at the corner of the frame lies the share
// k nearer to its middle than it would without the lens, others less by the square of their way
// there (Devernay and Faugeras 2001).

// bend is where a lens shows what would lie at p without it; w and h are the frame's pixels.
func bend(p Pt, k, w, h float64) Pt {
	x, y := p.X-w/2, p.Y-h/2
	m := 1 - k*(x*x+y*y)/(w*w+h*h)*4
	return Pt{x*m + w/2, y*m + h/2}
}

// unbend goes back, by steps: each leaves a small part of what the one before left.
func unbend(p Pt, k, w, h float64) Pt {
	q := p
	for range 4 {
		b := bend(q, k, w, h)
		q.X, q.Y = q.X+p.X-b.X, q.Y+p.Y-b.Y
	}
	return q
}
