package pack

// Fewest is the bound on lanes of this room for strips of these lengths.
func Fewest(task Task, room int64) int64 {
	p := task.packer()
	return fewest(p.lots, p.all(), room)
}

// Under is the bound on the total width of rows of this room.
func Under(task Task, room int64) int64 {
	p := task.packer()
	p.floor = p.thresholds()
	return p.under(p.all(), room, 0)
}

// all is how many strips each lot has.
func (p *packer) all() []int {
	left := make([]int, len(p.lots))
	for i, l := range p.lots {
		left[i] = len(l.widths)
	}
	return left
}
