// Package steps holds the procedure: six stages, their steps and ticks, as data
// (procedure.go and one file a stage), and the state machine over ops that keeps
// track of the work (work.go). It is pure: the time is in the op.
//
// To add a step, add a row to its stage's table; to add a number, a line in
// number.go; to add a drawing, a scene in steps/draw.
package steps
