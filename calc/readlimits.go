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
	// Within 0 no seam is right and no tape true.
	for _, f := range []struct {
		name     string
		is       *Length
		positive bool
	}{{"apart", &lim.Apart, false}, {"mend", &lim.Mend, true}, {"diagonals", &lim.Diagonals, false},
		{"tape", &lim.Tape, true}, {"seam", &lim.Seam, true}, {"seen", &lim.Seen, false}} {
		*f.is = r.length("limits."+f.name, o[f.name], *f.is, f.positive, maxSeam)
	}
	lim.ApartOwn, lim.MendOwn = !absent(o["apart"]), !absent(o["mend"])
	if !absent(o["diagonals"]) {
		lim.DiagonalsIn = Length{} // one figure for every length
	}
	if lim.Mend.Less(lim.Apart) {
		r.fault("limits.mend", "is %s; it can't be less than apart, %s, which is eased", r.show(lim.Mend), r.show(lim.Apart))
	}
	return lim
}
