package pack

import "math"

// What strips that are not cut yet add to the height and the joins at least, so that a search
// for joined strips (joined.go) can leave out what gets no better.

func (j *joiner) levels() {
	j.steps, j.slack = nil, 0
	for i := range j.order {
		q := j.pitch(j.strip(i).Width)
		j.slack = max(j.slack, q-j.strip(i).Width)
		if i == 0 || q != j.pitch(j.strip(i-1).Width) {
			if i > 0 {
				j.steps[len(j.steps)-1].rise -= q
			}
			j.steps = append(j.steps, level{rise: q})
		}
		j.steps[len(j.steps)-1].count = i + 1
	}
}

func (j *joiner) takes(i int) int64 {
	least := int64(math.MaxInt64)
	for _, w := range j.ways[i] {
		least = min(least, w.total+int64(len(w.least))*j.motif)
	}
	return least
}

func (j *joiner) under(from int, free, roomy int64) (sum int64) {
	need, big, at := -free, -roomy, from
	for _, l := range j.steps {
		for ; at < min(l.count, j.end()); at++ {
			need += j.takes(at)
			big += j.bigs(at)
		}
		if at > from {
			sum += l.rise * max(0, (need+j.room-1)/j.room, big)
		}
	}
	return sum
}

func (j *joiner) lowest() int64 { return j.pitch(j.strip(j.to - 1).Width) }

func (j *joiner) mostRows(sum int64, rows int) int {
	high := j.best.height
	if j.best.rows == nil {
		high-- // it is only a limit to get under
	}
	return rows + int((high-j.across(sum, j.slack))/j.lowest())
}

func (j *joiner) hanging(i int, free int64, joins, rows int) int64 {
	loss := j.motif + int64(math.MaxInt64>>1)
	need := -free
	for k := i; k < j.to; k++ {
		s := j.strip(k)
		loss = min(loss, j.loss(s.Width)+j.motif)
		need += s.Length + j.motif
	}
	if loss >= j.room || i == j.to {
		return 0
	}
	need += int64(rows-1-joins) * loss
	return max(0, (need+j.room-loss-1)/(j.room-loss))
}

func (j *joiner) bigs(i int) int64 {
	least := int64(math.MaxInt64)
	for _, w := range j.ways[i] {
		n := int64(0)
		for _, x := range w.least {
			if 2*(x+j.motif) > j.room {
				n++
			}
		}
		least = min(least, n)
	}
	return least
}

func (j *joiner) reach(i, joins int) (sum int64) {
	for k := j.from; k < i; k++ {
		sum += j.reaches[k][j.picks[k].way]
	}
	for k := i; k < j.to; k++ {
		most := int64(0)
		for w, way := range j.ways[k] {
			if joins+len(way.least)-len(j.ways[k][0].least) <= j.best.joins {
				most = max(most, j.reaches[k][w])
			}
		}
		sum += most
	}
	return sum
}

func (j *joiner) left(i int) int64 {
	var free, all int64
	for _, r := range j.rows {
		free += r.free
		if !r.given {
			all += j.room
		} else {
			all += r.free
		}
	}
	for k := j.from; k < i; k++ {
		way := j.ways[k][j.picks[k].way]
		all -= way.total + int64(len(way.least))*j.motif
		for n, row := range j.picks[k].rows {
			switch {
			case row < 0:
				all += j.room
			case j.rows[row].given:
				all += way.least[n] + j.motif // free has it off already
			}
		}
	}
	return min(free, all)
}
