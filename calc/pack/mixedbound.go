package pack

// impossible tells whether no layout at all is so short, of two strips along that are alike and
// strips across that are alike.
//
// Pushed toward the start of the fabric, each strip begins there or where another ends: each
// strip along so many rows on, or those beyond the end of the other one. For each two places
// of them, take lines across the fabric as far apart as a row is high. Each part of a strip
// across lies on just one of these, and there must be room for all of them beside the strips
// along, from wherever the lines are counted.
func (m *mixer) impossible(length int64) bool {
	long, high := m.Along[0].Length, m.Across[0].Width
	if length/high > maxLines {
		return false
	}
	for first := int64(0); first+long <= length; first += high {
		for second := first; second+long <= length; second += high {
			if !m.crowded(first, second, length) {
				return false
			}
		}
		for second := long; second+long <= length; second += high {
			if second >= first && !m.crowded(first, second, length) {
				return false
			}
		}
	}
	return true
}

// maxLines is how many lines are looked at.
const maxLines = 400

// crowded tells whether the strips across do not go beside strips along at these places.
func (m *mixer) crowded(first, second, length int64) bool {
	along, high := m.Along[0], m.Across[0].Width
	if second < first+along.Length && 2*along.Width > m.width {
		return true
	}
	own := make([]int, len(m.Across))
	for i := range own {
		own[i] = i
	}
	last := along.Length - 1
	for _, from := range []int64{length, first, second, first + last, second + last, 0} {
		var slots []slot
		for y := from % high; y < length; y += high {
			room := m.width
			for _, at := range []int64{first, second} {
				if at <= y && y < at+along.Length {
					room -= along.Width
				}
			}
			slots = append(slots, slot{room: room})
		}
		if m.fit(own, slots) == nil && m.work > 0 {
			return true
		}
	}
	return false
}
