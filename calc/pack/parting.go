package pack

// MaxParts is how many parts one strip is joined from at most. More is no border
// that anyone sews, and where a join uses up all but a thread of a row the parts
// would have no end.
const MaxParts = 40

// moreParts is how many parts more than it must have a strip may get, where that
// fills what rows have left.
const moreParts = 2

// A parting is one way to put a strip together: how long each of its parts may be, from
// one end of the strip to the other, and how long they are in all. Two parts lie one
// over the other for as far as their join takes, so in all they are as long as the strip
// and its joins.
type parting struct {
	total       int64
	least, most []int64
}

// partings are the ways to put a strip together from rows of this room, the fewest parts
// first. The whole of a join lies at least Tail from either end of the strip, so that an
// end part is as long as that and the join; and no two joins touch, so that a part
// between two joins is as long as both. Where no joins keep to that, the one way is that
// with the joins as near the middle as they come. There is none where the strip would have
// more than MaxParts.
func partings(s Strip, room, loss int64) []parting {
	return partingsUpTo(s, room, loss, moreParts)
}

// partingsUpTo are those with up to so many parts more than the fewest.
func partingsUpTo(s Strip, room, loss int64, more int) []parting {
	var all []parting
	if s.Length <= room {
		all = append(all, parting{s.Length, []int64{s.Length}, []int64{s.Length}})
	}
	if room <= loss {
		return all
	}
	end, between := s.Tail+loss, 2*loss
	fewest := 0
	for k := int64(2); k <= MaxParts && end <= room && (k == 2 || between <= room); k++ {
		p := parting{total: s.Length + (k-1)*loss}
		if fewest > 0 && int(k) > fewest+more || 2*end+(k-2)*between > p.total {
			break
		}
		if p.total > k*room {
			continue
		}
		if fewest == 0 {
			fewest = int(k)
		}
		for i := range k {
			least := between
			if i == 0 || i == k-1 {
				least = end
			}
			p.least, p.most = append(p.least, least), append(p.most, room)
		}
		all = append(all, p)
	}
	if len(all) == 0 {
		all = append(all, inTheMiddle(s.Length, room, loss)...)
	}
	return all
}

// inTheMiddle is the strip with its joins side by side about its middle, of as few parts
// as make it up; where the end parts can't be so long, as near to it as they can.
func inTheMiddle(length, room, loss int64) []parting {
	k := max(2, (length-loss+room-loss-1)/(room-loss))
	if k > MaxParts {
		return nil
	}
	total := length + (k-1)*loss
	inner := min(2*loss, room) * (k - 2)
	if rest := total - 2*room; inner < rest {
		inner = rest
	}
	var parts []int64
	first := (total - inner) / 2
	parts = append(parts, first)
	for i := k - 2; i > 0; i-- {
		n := inner / i
		parts, inner = append(parts, n), inner-n
	}
	sum := int64(0)
	for _, n := range parts {
		sum += n
	}
	parts = append(parts, total-sum)
	return []parting{{total, parts, parts}}
}

// A weighing is how much each of a strip's parts takes, for every grain that it is long,
// from the distances of the joins to the strip's middle. Seen from a part that the middle
// lies in, what lies farther out pushes every join between toward it: the weight of a part
// is the number of parts that it lies from that one. Whatever part is taken for it, the
// distances are at least twice what is reckoned so, and for one of them just that.
type weighing struct {
	base    int64 // twice the distances, were the parts nothing
	weights []int64
}

func weighings(s Strip, k int, loss int64) []weighing {
	var all []weighing
	for heart := range k {
		left, right := int64(heart), int64(k-1-heart)
		w := weighing{base: int64(k-1)*s.Length + loss*(left*left+right*right)}
		for i := range k {
			w.weights = append(w.weights, max(int64(i-heart), int64(heart-i)))
		}
		all = append(all, w)
	}
	return all
}

// farthest is twice the most that the joins of a strip alone can lie from its middle.
func farthest(s Strip, p parting, loss int64) int64 {
	best := int64(0)
	for _, w := range weighings(s, len(p.least), loss) {
		left := p.total
		cost := int64(0)
		for i, n := range p.least {
			left, cost = left-n, cost+n*w.weights[i]
		}
		for weight := int64(0); left > 0; weight++ {
			for i, at := range w.weights {
				if at == weight {
					n := min(left, p.most[i]-p.least[i])
					left, cost = left-n, cost+n*weight
				}
			}
		}
		best = max(best, w.base-2*cost)
	}
	return best
}
