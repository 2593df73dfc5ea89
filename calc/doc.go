// Package calc reckons a mitered border: from a plan (the quilt center, the borders, the seam
// allowance) to a sheet (strips, marks, corners, sizes, fabric). It judges what was measured,
// too, and tells the ways out.
//
// It is pure: values in, values out. Lengths are exact until they are shown; every rounding
// has a name and a direction (Rounding).
//
// # The geometry of a corner
//
// The dot is where the seams of two neighboring edges meet, a seam allowance in from both raw
// edges of the center. Put it at the origin, with the side band reaching to x = S and the top
// band to y = T, both finished. The miter is the line from the dot to (S, T); its length is
// H = √(S² + T²). Everything about a corner follows from S, T and the seam allowance s.
//
// # Numbers
//
// A Length is a fraction of inches (big.Rat). A third of a yard and 92.7 cm in inches have no
// end as decimals, and a sum of three thirds must be whole before it is rounded up to the next
// 1/8. Roots that are rational are exact; others carry 40 decimals (length.go). The decimal
// package writes values out (figure.go, verdict.go) and reads percentages (read.go); its
// settings, such as DivisionPrecision, are never changed.
//
// Every rounding is here. Pages, drawings and JSON show the same Figure, and nothing is reckoned
// in a template or a script. reckoning.go tells of each figure of the sheet how it came about:
// the sheet's page, "plan --how" and the steps show that. TestEveryFigureIsReckonedInWords works
// the sums out again from the words alone.
//
// What is read is bounded before it is read (parse.go): at most 40 characters, 6 digits before
// the point and 6 after it, 4 digits under a fraction's line. A side is at most 1,000 in long.
// ParsePlan collects every fault with its field.
//
// # Fabric
//
// Nobody is told to buy too little. Where the wanted line of a stripe, or the motif of a print,
// first comes on a fabric is not known, so a whole repeat is set aside before the first strip
// (stripe.go, fabriclay.go). A plan may say how often a border stripe is printed across its fabric
// (across), or how far its first line lies from the usable edge (first): then nothing is set
// aside, and its strips are cut lengthwise only (place in fabricbolt.go). All strips of one
// fabric lie on one print (calc/pack/phase.go), so a column may begin sooner. Layouts are searched for in whole numbers (calc/pack), for which
// grain.up and grain.down turn lengths into a common measure (fabricgrain.go). The search has a
// budget (maxWork in fabricbolt.go), and only several borders on one fabric run into it: then the
// layout is enough, and a note says that a shorter piece might be too. Ways.Pick is the way that
// takes the shorter length, lengthwise where both take the same.
//
// A print with a direction (fabric.heads) has its heads along the selvage, and asks for one way to
// cut (fabricway.go): outwards and inwards for strips across, up for sides along the fabric and
// top and bottom across it. These lie on one length (calc/pack/mixed.go), which is proved the
// shortest for one border without a repeat. With a repeat and heads up it is taken to be the same
// both ways: rows start on whole motifs too. All strips of such a fabric lie with their heads to
// one end of it (Way.Heads), and none is turned round.
//
// Strips cut crosswise from a striped fabric have the repeat across the strip too: the plan says
// how the print lies to the strip, not to the selvage.
//
// Whether a piece at hand is enough is judged by the same layouts, not rounded, for all borders
// that are cut from its fabric together (fabricathand.go). The widest border that it allows is
// found by halving, because a narrower one never takes more.
//
// # What was measured
//
// The size that is built on is the one entered, else what three measures give (Limits.Settle),
// else the plan's. Three equal measures are taken as they are, so that one who measures what was
// planned changes nothing.
//
// Each judge is a file, and gives a Verdict in words and figures:
//
//	squareup.go, shape.go, slip.go, trim.go  a center, or a bordered top
//	seamcheck.go                             a seam test
//	stripcheck.go                            a strip as it was cut
//	narrower.go, joinedpiece.go, newstrip.go the ways to save a strip
//	cornerlook.go                            a corner, before its trim
//	bandlength.go                            a band beside its edge of the center
//	outcome.go, next.go                      the end, and what comes after it
//	doubt.go                                 a measure that is far from the plan
//
// limits.go has every threshold. A plan sets some of them (limits: apart, mend, diagonals, tape,
// seam, seen); what it leaves out is common practice. Nothing measured is refused for being hard
// to believe: Limits.Doubt asks.
//
// A slip of the tape is told from a crooked top by the parallelogram law, 2a² + 2b² = d1² + d2²,
// within what a tape may be off. The measure named is the one which, put right, leaves all others
// agreeing best, among themselves and with the plan (slip.go).
//
// wrong.go lists what goes wrong at the machine, a row a trouble. Each has a worked example in
// testdata/wrong (TestEveryTroubleHasItsWorkedExample).
//
// # Sizes and stripes to begin with
//
// A size that is wanted changes one border to widths on a ruler's line, 1/8 in or 1 mm
// (wanted.go). Where the two pairs of edges come out differently, all three ways are given with
// what each costs: the size met and a miter off 45 degrees, or one width all round and one side
// missed. The wanted size is no part of the plan; the widths are.
//
// The beds (mattress.go) are nominal sizes of the United States and Canada; elsewhere one enters
// figures. The stripes (readymade.go) are our own, as shares of the border's repeat, so that they
// fill it exactly.
package calc
