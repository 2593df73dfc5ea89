// Package steps holds the procedure: six stages, their steps and ticks, as data, and the state
// machine over ops that keeps track of the work. It is pure: the time is in the op.
//
// # The procedure
//
// A stage is a table: squareup.go (with coping.go), cut.go, mark.go, sew.go, miter.go,
// press.go; test.go has what may stand in one of three.
// A row is repeated over its round (every edge, every corner, every border; round.go), and left
// out where its when does not hold. The round fills in the words in braces. Needs are ids of
// ticks; * stands for any part of an id.
//
// To add a step, add a row to its stage's table; to add a number, a line in number.go with how
// it was reckoned; to add a caution, a line in caution.go with its source; to add a drawing, an
// act in steps/draw. TestEveryProcedureIsSound holds each row to the rules: at most 20 words, one
// action, a look or a measure before every cut, a picture of its own.
//
// The ids of ticks, measures and steps are kept in people's sessions. A tick whose meaning
// changes gets a new id, and the tables a new edition, which says what stands for the old one
// (edition.go).
//
// Equal bands miter at 45 degrees: the corner is folded first, and one line is drawn. Unequal
// bands do not, so each tail gets its own line before the corner is folded, line on line
// (miter.go). The pair of edges that is sewn first is a choice, kept as the measure first-pair:
// the longer two unless said otherwise. It can't change once an edge is pinned.
//
// The machine and its test seam stand before the first seam of all, wherever that is (test.go).
// No seam needs them: to test once more must not open what is sewn. Borders cut from one fabric
// have it pressed each, and squared once. A print along a strip decides where the strip is cut:
// its middle is found and marked before the blade, and never by folding.
//
// Somebody practiced takes at once what belongs together: a step's groups (group.go), which its
// ticks belong to by their column group. Ticks are the same in both paces, and no op says which
// pace it was taken in. An op tick may have ticks, which are taken all or none, in their order,
// and taken back by one undo; a cut or a look among them is refused. A measure with done true
// does its own tick too, where all that the tick asks for is there and nothing of it is hard to
// believe; the entry keeps which tick that was.
//
// A tick may be put off, with a reason (later.go). Work passes it over, and comes back to it
// before its stage is left.
//
// A warning stands at every cut, a caution about a person once a step, a notice about fabric
// once a stage (noticeOnce).
//
// Words of the trade stand in Terms (term.go), each with a sentence and a drawing. They are no
// part of an edition.
//
// # State is what the ops say
//
// The plan is the first op. A Work never changes: a tick copies the way to its own step and
// shares the rest. Undo gives back the Work before the last op, and only that one is kept.
//
// Apply takes a new op, or refuses it with a Refusal; Recall takes one that was taken once, and
// refuses nothing. An op that was taken stays taken under every later edition.
//
// A Bookmark is the Work as it stands, for the program that made it: what ops changed, exactly,
// and what the quilt was worked out from. Reopen works the quilt out again, finds out again what
// was found out, and gives the same Work, down to what undo would take back.
//
// Tell is an entry of a history in words, with the number that it was done to, as far as today's
// tables know what it was about (tell.go); who did it stands beside the op, as By.
//
// # What follows from measures
//
// Which size is built on is settled here (settle.go), by what calc says. What measures come to
// stands on the steps as Findings, a file each for center, strips, seam, edges, corners and top
// (found_center.go and so on): an answer as calc gives it, with the ticks of this session filled
// in. A strip that is cut keeps the figures that its tick showed, so it is judged as it lies
// there when the center changes after it.
//
// A measure knows its plan (expect.go): Expect is what the plan says, and outside Least to Most
// there is always a Doubt. Nothing measured is refused for being hard to believe. Measure.Tick is
// the tick that it is taken with. A measure opens no tick: what was cut to another size is
// judged, and stays done.
//
// A number that changed says so until it is seen (seen.go): Number.Changed has was, now and why.
// It is compared with what its tick showed when it was done, when the session began, or at the op
// seen (of a step, of a tick, or of all). A number that is set back is no change. Seen is not an
// op that undo takes back. An op tick may carry number, the tick's own as it was shown; where
// that is another by now, the op is refused as number-changed. What fabric was cut to stays known
// after seen.
//
// # When something goes wrong
//
// Wrongs lists every trouble from any step, the likely ones first, with what was measured
// already. Answer answers one; where no edge is given, its ways are for all four (wrong.go).
//
// A way out is taken by the op mend: wrong (a trouble's id, or what a finding is of), way (the
// way's id), and for a trouble border, edge, corner and values. It opens the way's ticks, changes
// the plan where the way does, and puts the way's acts into the work as a step: an act a tick;
// what is no act is told as the why of one (mend.go, mendstep.go). A strip that is mended counts
// as what the mend makes of it, until it is measured again.
//
// A corner is trimmed after a look that passed (look.go). Where look-N or miss-N says otherwise,
// the trim is refused as look-first. Why on the op tick is the way past it, kept in the history
// and as Despite on the tick. Where nothing was entered, the look's own tick is the pass. Redo
// takes away what was measured of the work that it opens; the center's own measures stay, as
// sizes follow from them.
//
// Another plan opens what was done to a number that lies in the fabric and is another now
// (replan.go). A strip that is cut stays done where it still serves, by its least length and its
// width (calc.CheckStrip). Replanned tells beforehand what stays, what opens and what is gone,
// each with its reason; the op plan does just that. Tick.Opened and Work.Gone tell it until it is
// done anew or seen.
//
// At the end Outcome compares the top as measured with the plan as it was first made, and Next
// reckons backing, batting and binding for it (outcome.go).
//
// # As JSON
//
// The kinds and fields of ops are in op.go, those of the state in stage.go, change.go, finding.go
// and seen.go. A Change has what an op made new: Ticks, Measures and Notes by id; Steps, whole,
// where more of a step is new than those tell; Plan, Sheet and Stages, whole, when numbers or
// steps changed.
//
// Beside a tick's id, label, done, needs and cuts stand title, say, why, numbers, number, caution,
// opened, despite, new and passed. A measure with options takes one of them. The op undo (of:
// the last op's id) is refused as not-last when something was done since; last in the state, and
// in a change, is what undo would take back, in words.
package steps
