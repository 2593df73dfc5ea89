// Package repeat finds how a print repeats along and across fabric seen from straight above, and
// where it mirrors.
package repeat
