package draw

import "math"

// turnedToMachine shows in a room how the center comes to lie as it is sewn: turned over like a
// page, then turned on the table until its edge, chalked, lies at the right.
func (q Quilt) turnedToMachine(p *pen, room box, edge string) {
	if edge == "left" { // the page's turn is enough
		q.turnedInset(p, room, q.edgeAt(edge), "")
		return
	}
	third := (room.right - room.left) * 0.3
	q.turnedInset(p, box{room.left, room.top, room.right - third - 16, room.bottom}, q.edgeAt(edge), "")
	p.loupes++
	p.loupe = p.loupes
	defer func() { p.loupe = 0 }()

	lies := q.atMachine(Scene{Kind: EdgeScene, Edge: edge}).center()
	lies = scale(1 / lies.scale()).of(lies)
	wide, long := q.width(), q.length()
	if !upright(edge) {
		wide, long = long, wide
	}
	at := box{room.right - third, room.top + 54, room.right, room.bottom}
	k := at.fit(wide, long).scale()
	m := at.middle()
	middle := lies.at(0, 0)
	f := move(m.x-k*middle.x, m.y-k*middle.y).of(scale(k)).of(lies)
	q.lay(p, "center", f, q.centerOutline())
	p.shape("raw", f.all(q.centerOutline())...)
	chalked := f.all(q.edgeAt(edge))
	p.lines("chalkrim", chalked...)
	p.lines("chalk", chalked...)
	// Over it, which way it was turned: top a quarter clockwise, bottom a quarter back, right
	// half round.
	turn := map[string][2]float64{"top": {-2.6, -0.9}, "bottom": {-0.6, -2.3}, "right": {-3.3, -0.2}}[edge]
	var arc []pt
	for i := 0.0; i <= 10; i++ {
		a := turn[0] + (turn[1]-turn[0])*i/10
		arc = append(arc, pt{m.x + 34*math.Cos(a), m.y - k*long/2 - 10 + 34*math.Sin(a)})
	}
	p.arrowAlong(arc)
}
