package draw

import "fmt"

// machine is the foot of a sewing machine from the front: the needle, and the guide that
// the raw edges run along, a seam allowance to its right.
func (q Quilt) machine(p *pen) string {
	const needle, plate = 270.0, 380.0
	wide := clamp(q.seam()*190, 48, 200)
	p.shape("c3", box{30, plate, 570, plate + 26}.corners()...)
	p.line("raw", pt{30, plate}, pt{570, plate})
	// Two layers of fabric, their raw edges at the guide.
	for i, class := range []string{"c2", "c1"} {
		y := plate - 10*float64(i+1)
		p.shape(class, box{30, y, needle + wide, y + 10}.corners()...)
		p.line("raw", pt{30, y}, pt{needle + wide, y}, pt{needle + wide, y + 10})
	}
	foot := plate - 24.0
	p.shape("ruler", box{needle - 78, foot - 26, needle - 14, foot}.corners()...)
	p.shape("ruler", box{needle + 14, foot - 26, needle + wide, foot}.corners()...)
	p.shape("ruler", box{needle - 26, 60, needle - 8, foot - 26}.corners()...)
	p.line("raw", pt{needle - 78, foot}, pt{needle - 14, foot})
	p.line("raw", pt{needle + 14, foot}, pt{needle + wide, foot})
	p.line("seam", pt{needle, 40}, pt{needle, foot - 60}) // the thread
	p.use("needle", move(needle, plate-4).of(scale(1.4)))
	p.shape("guide", box{needle + wide, plate - 60, needle + wide + 22, plate}.corners()...)
	y := plate + 52
	p.dim(pt{needle, y}, pt{needle + wide, y})
	p.text("tn", pt{needle + wide + 40, y}, after, q.Sheet.Seam.Exactly())
	p.words(pt{needle + 60, 150}, after, word{"t", "needle,"}, word{"t", "thread, foot"})
	return fmt.Sprintf("The machine's foot from the front, the fabric left of the needle: raw edges against the guide, %s right of the needle", q.Sheet.Seam.Exactly())
}
