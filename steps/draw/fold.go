package draw

import (
	"fmt"
	"math"
)

// fold is the hardest act, in three pictures: the corner lies right side up; the half with the
// strip over is turned over about the fold; it lies on the strip beneath, right sides together.
// Unequal bands have their lines by then: they come to lie on each other.
func (q Quilt) fold(p *pen, s Scene) string {
	v := q.cornerAtTable(s)
	flat := v.lies(box{8, 8, 252, 246}, v.shown(0.35, 1.15), false)
	flat.foldFlat(p)
	turning := v.lies(box{8, 254, 252, 492}, v.shown(0.35, 1.15), false)
	turning.foldTurning(p)
	lies := v.lies(box{262, 8, 592, 348}, v.shown(0.2, 0.9), false)
	lies.foldLies(p)
	for i, room := range []box{flat.room, turning.room, lies.room} {
		p.shape("frame", room.corners()...)
		at, where := pt{room.left + 10, room.top + 28}, after
		if free := quarterTurns(s.Corner-1).at(-1, 1); i == 2 { // where the table is bare
			if free.x > 0 {
				at.x, where = room.right-10, before
			}
			if free.y > 0 {
				at.y = room.bottom - 28
			}
		}
		p.text("ts", at, where, fmt.Sprint(i+1))
	}
	last := fmt.Sprintf("tails right sides together, its edges level with those beneath, pinned clear of the line to come, the fold at %s to the seam", degrees(v.foldAngle()))
	if v.lined() {
		p.words(pt{427, 428}, amid, word{"t", "right sides"}, word{"t", "together,"}, word{"t", "line on line"})
		last = "tails right sides together, the line of one on the line of the other; a pin in one comes out in the other"
	} else {
		p.words(pt{427, 424}, amid, word{"t", "right sides"}, word{"t", "together"})
	}
	return fmt.Sprintf(", in three pictures. 1: right side up, the fold dotted from the dot into the center. 2: the %s turned over about the fold. 3: it lies wrong side up on the %s, %s",
		v.name(v.over), v.name(v.under), last)
}

// lined tells whether the strips have their lines before the corner is folded.
func (v cornerView) lined() bool { return !v.Sheet.Corner.Equal() }

// foldAngle is the angle at the dot between the seam of the strip beneath and the fold.
func (v cornerView) foldAngle() float64 { return v.angle(edgesOf(v.under)) }

var still = frame{1, 0, 0, 1, 0, 0}

// foldFlat is the corner right side up: the strip that is turned lies over the other's tail.
func (v cornerView) foldFlat(p *pen) {
	over, under := v.tails()
	v.place(p, "center", still, []pt{{0, 0}, {far, 0}, {far, far}, {0, far}})
	v.place(p, v.under, still, v.underStrip(under))
	v.rawUnder(p, under)
	v.place(p, v.over, still, v.overStrip(over))
	v.rawOver(p, still, over)
	v.line(p, "seam", still, pt{far, 0}, pt{0, 0}, pt{0, far})
	v.line(p, "foldedge", still, pt{0, 0}, v.miter().times(-far))
	v.foldArrow(p, 0, 1)
}

// foldTurning is the half with the strip over, lifted and turned two thirds of the way.
func (v cornerView) foldTurning(p *pen) {
	over, under := v.tails()
	v.place(p, "center", still, v.underHalf())
	v.place(p, v.under, still, v.underStrip(under))
	v.rawUnder(p, under)
	v.line(p, "seam", still, pt{far, 0}, pt{0, 0})
	v.line(p, "ghost", still, pt{-v.wide - v.seam(), far}, pt{-v.wide - v.seam(), v.seam()}) // where it was
	angle := 2 * math.Pi / 3
	if v.lined() { // else one strip could seem to lie on the other
		angle = 1.9
	}
	lifted := v.lifted(angle)
	v.place(p, "center", lifted, v.overHalf())
	v.place(p, v.over, lifted, v.overStrip(over))
	v.rawOver(p, lifted, over)
	v.line(p, "stitch", lifted, pt{0, 0}, pt{0, far})
	v.line(p, "foldedge", still, pt{0, 0}, v.miter().times(-far))
	if v.lined() {
		over, _ := v.ends()
		v.line(p, "chalk", lifted, pt{}, over)
	}
	v.foldArrow(p, 0.66, 1)
}

// lifted turns about the fold by an angle, seen from straight above: nothing at 0, all the way
// over at π.
func (v cornerView) lifted(angle float64) frame {
	d := v.miter().unit()
	c := math.Cos(angle)
	// p = (p·d) d + c (p − (p·d) d)
	return frame{
		c + (1-c)*d.x*d.x, (1 - c) * d.x * d.y,
		(1 - c) * d.x * d.y, c + (1-c)*d.y*d.y, 0, 0,
	}
}

// foldLies is the corner folded, held at the fold between thumb and forefinger.
func (v cornerView) foldLies(p *pen) {
	dot, fold := v.at(0, 0), v.to(v.miter().times(-1)).minus(v.at(0, 0)).unit()
	seam := v.at(1, 0).minus(dot).unit()
	out := fold.minus(seam).unit() // from the fold to the bare table
	at := 112.0
	if _, end, ok := v.room.line(dot, dot.plus(fold.times(1e3))); ok {
		at = min(at, end.minus(dot).long()-60)
	}
	for at > 40 && !v.room.holds(dot.plus(fold.times(at)).plus(out.times(66))) {
		at -= 8
	}
	held := dot.plus(fold.times(at))
	p.finger(held.plus(fold.times(-13)), out)
	v.foldedLayers(p, false)
	p.finger(held.plus(fold.times(14)).minus(out.times(16)), out)
	over, _ := v.ends()
	tip := v.to(over)
	if v.lined() {
		p.line("chalk", dot, tip)
		for _, t := range []float64{0.3, 0.7} {
			v.pinAcross(p, dot.to(tip, t), tip.minus(dot).unit())
		}
		p.dot(dot)
		return
	}
	v.line(p, "ghost", still, pt{}, over)
	for _, along := range []float64{-0.25, 0.75} {
		v.foldPin(p, along*v.wide)
	}
	p.arc(dot, seam, fold, 62)
	beside := dot.plus(seam.plus(fold).unit().times(116))
	p.text("tn", pt{clamp(beside.x, v.room.left+44, v.room.right-44), beside.y}, amid, degrees(v.foldAngle()))
	p.dot(dot)
}

// foldPin holds the raw outer edges, its head beyond them, so far along from the dot.
func (v cornerView) foldPin(p *pen, along float64) {
	in := v.at(0, 1).minus(v.at(0, 0)).unit()
	p.pin(v.at(along, -v.deep-v.seam()).plus(in.times(14)), in)
}

// foldArrow goes round the dot from the strip over to where it will lie: so it crosses the fold
// squarely. from and to are parts of that way.
func (v cornerView) foldArrow(p *pen, from, to float64) {
	start := pt{-v.wide / 2, 0.8 * max(v.wide, v.deep)}
	end := v.folded().at(start.x, start.y)
	a, b := math.Atan2(start.y, start.x), math.Atan2(end.y, end.x)
	r := start.long()
	arc := func(t float64) pt {
		turn := a + (b-a)*t
		return v.at(r*math.Cos(turn), r*math.Sin(turn))
	}
	var points []pt
	for i := 0.0; i <= 12; i++ {
		points = append(points, arc(from+(to-from)*i/12))
	}
	p.arrowAlong(points)
}

// rawOver and rawUnder are the raw edges of the two strips.
func (v cornerView) rawOver(p *pen, moved frame, tail float64) {
	v.line(p, "raw", moved, v.overStrip(tail)[:5]...)
}

func (v cornerView) rawUnder(p *pen, tail float64) {
	v.line(p, "raw", still, v.underStrip(tail)[:5]...)
}
