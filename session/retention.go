package session

// How many own backups are retained. They are counted by themselves, not back from
// today: a clock set far ahead would make all of them old at once.
const (
	retainNewest = 6
	retainDays   = 7 // the last of each of these many days that have any
	retainWeeks  = 8 // and of these many weeks
)

// expired are the backups to let go, of all, newest first.
func expired(all []Backup) (old []Backup) {
	days, weeks := map[string]bool{}, map[[2]int]bool{}
	for i, b := range all {
		day := b.Made.Format("2006-01-02")
		year, number := b.Made.ISOWeek()
		week := [2]int{year, number}
		ofDay := !days[day] && len(days) < retainDays
		ofWeek := !weeks[week] && len(weeks) < retainWeeks
		if ofDay {
			days[day] = true
		}
		if ofWeek {
			weeks[week] = true
		}
		if i >= retainNewest && !ofDay && !ofWeek {
			old = append(old, b)
		}
	}
	return old
}
