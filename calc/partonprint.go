package calc

// OnPrint is how far from the near end of each part of a joined strip, in order, what of the
// print lies on the strip's middle is first met: so the print runs on over every join.
func OnPrint(parts []Length, takes, long, motif Length) []Length {
	all := []Length{long.Half().mod(motif)}
	for _, j := range Joins(parts, takes) {
		all = append(all, long.Half().Sub(j.From).mod(motif))
	}
	return all
}
