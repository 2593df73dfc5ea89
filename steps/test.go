package steps

import "cornerwise/calc"

// testSeam are the machine made ready and its test seam, which come before the first seam
// of all: before coping strips, before joins and bands, or before the borders. No seam needs
// them: testing once more must not open what is sewn.
func testSeam(first when) []stepRow {
	return []stepRow{
		{
			id: "machine", title: "Your machine", when: first, round: withFoot,
			ticks: []tickRows{{nil, []tickRow{{
				id: "machine.noted", label: "Machine ready and noted", title: "Set up the machine",
				say:     "Fit a new needle, thread to match, and {foot}. Write them in this step's note.",
				why:     "Days later the note tells what you sewed with. A walking foot helps where long strips creep.",
				caution: "needle", number: "stitch", kind: "machine", act: "ready",
			}}}},
		},
		{
			id: "seam-test", title: "Test seam", when: first, round: testStrips,
			measures: []measureRow{{id: "seam-across", label: "Across all three", expect: "across", tick: "test.measured"}},
			ticks: []tickRows{{nil, []tickRow{{
				id: "test.made", label: "Test strips sewn", title: "Sew a test",
				say:     "Sew three strips of scrap, cut {testCut} wide, side by side.",
				why:     "An allowance that is slightly too wide adds up over every seam of the top.",
				needs:   "machine.noted",
				caution: "needle", number: "seamAndStitch", kind: "test", act: "sew",
			}, {
				id: "test.measured", label: "Seam checked", title: "Check your seam",
				say:    "Press both seams to one side. Then measure across all three.",
				why:    "What it measures tells the allowance that you really sew.",
				needs:  "test.made",
				number: "test", kind: "test", act: "measure",
			}}}},
		},
	}
}

// Where the test seam stands: exactly one of these holds.
func testBeforeCoping(q *quilt, _ names) bool { return q.plan.Coping != nil }
func testBeforeJoins(q *quilt, n names) bool {
	return q.plan.Coping == nil && (len(q.plan.Borders) > 1 || len(everyJoined(q, n)) > 0)
}
func testBeforeBorders(q *quilt, n names) bool {
	return !testBeforeCoping(q, n) && !testBeforeJoins(q, n)
}

func testStrips(q *quilt, _ names) []names {
	return []names{{"testCut": calc.NewSeamTest(q.plan).Cut.Exactly()}}
}

// withFoot is once, and names the foot that this allowance asks for.
func withFoot(q *quilt, _ names) []names {
	if q.plan.Seam.Equal(calc.Of(1, 4, calc.Inch)) {
		return []names{{"foot": "a quarter-inch foot"}}
	}
	return []names{{"foot": "a guide at " + q.sheet.Seam.Exactly()}}
}
