package calc

import "encoding/json"

// limits reads the limits that the plan sets itself; what it leaves out is common
// practice (DefaultLimits).
func (r *reader) limits(data json.RawMessage) Limits {
	lim := DefaultLimits(r.unit)
	if absent(data) {
		return lim
	}
	o := r.object("limits", data, "apart", "mend", "diagonals", "tape", "seam", "seen")
	if o == nil {
		return lim
	}
	for name, l := range map[string]*Length{"apart": &lim.Apart, "mend": &lim.Mend, "diagonals": &lim.Diagonals, "tape": &lim.Tape, "seam": &lim.Seam, "seen": &lim.Seen} {
		*l = r.length("limits."+name, o[name], *l, false, maxSeam)
	}
	if lim.Mend.Less(lim.Apart) {
		r.fault("limits.mend", "is %s; it can't be less than apart, %s, which is eased", r.show(lim.Mend), r.show(lim.Apart))
	}
	return lim
}
