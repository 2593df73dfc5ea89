package calc

import "fmt"

// Reckonings are how backing, batting and binding come about.
func (n Next) Reckonings(f Finishing) []Reckoning {
	u := n.Top.Width.Unit
	var all []Reckoning
	add := func(path, name string, fig Figure, how string, args ...any) {
		all = append(all, Reckoning{"next." + path, name, fig, fmt.Sprintf(how, args...)})
	}
	around := u.nearest(f.Around).Bare()
	for _, x := range []struct {
		path, name string
		top, size  Figure
	}{{"width", "wide", n.Top.Width, n.Backing.Width}, {"length", "long", n.Top.Length, n.Backing.Length}} {
		add("top."+x.path, "top before binding, "+x.name, x.top, "The bordered top, raw edge to raw edge.")
		add("backing."+x.path, "backing, "+x.name, x.size, "%s + 2 × %s: the bordered top, and some on either side.", x.top.Bare(), around)
		add("batting."+x.path, "batting, "+x.name, x.size, "%s + 2 × %s: as large as the backing.", x.top.Bare(), around)
	}
	widths := func(path, name string, w Widths) {
		cover := n.Backing.Width
		if w.Run == "across" {
			cover = n.Backing.Length
		}
		pieces := fmt.Sprintf("%d lengths of %s", w.Pieces, w.Each.Bare())
		if w.Pieces == 1 {
			pieces = "One length of " + w.Each.Bare()
		}
		seams := ""
		if w.Seams > 0 {
			seams = fmt.Sprintf(" − %d × 2 × %s for the seams", w.Seams, u.nearest(f.Seam).Bare())
		}
		add(path+"usable", name+": usable width", w.Usable, "What can be used of its fabric from selvage to selvage, by common practice.")
		add(path+"each", name+": each length", w.Each, "As the backing is %s.", map[bool]string{true: "wide", false: "long"}[w.Run == "across"])
		add(path+"buy", name+": to buy", w.Buy, "%s + %s for squaring the ends, up to %s. %d × %s%s covers %s.",
			pieces, u.nearest(f.Even).Bare(), soldBy(u), w.Pieces, w.Usable.Bare(), seams, cover.Bare())
	}
	widths("backing.", "backing", n.Backing.Widths)
	if n.Backing.Wide != nil {
		widths("backing.wide.", "backing of wide fabric", *n.Backing.Wide)
	}
	b := n.Binding
	add("binding.perimeter", "binding: once round", b.Perimeter, "2 × (%s + %s).", n.Top.Width.Bare(), n.Top.Length.Bare())
	add("binding.needed", "binding: how long", b.Needed, "%s + %s: once round, and some for the corners and the ends.", b.Perimeter.Bare(), u.nearest(f.Joins).Bare())
	add("binding.cut", "binding: cut width", b.Cut, "Common practice.")
	add("binding.fabric", "binding: as it lies", b.Fabric, "%d × %s: all strips, cut across the fabric.", b.Strips, b.Cut.Bare())
	add("binding.buy", "binding: to buy", b.Buy, "%d strips: each gives %s − %s, for each of the %d diagonal joins takes a strip's width. %d × %s + %s for squaring the ends, up to %s.",
		b.Strips, u.nearest(f.Usable).Bare(), b.Cut.Bare(), b.Strips, b.Strips, b.Cut.Bare(), u.nearest(f.Even).Bare(), soldBy(u))
	return all
}
