// Package photo tells what a photograph of a fabric says, with a sheet of known size lying on it:
// how the print repeats along and across the strip that will be cut, and how sure that is; and
// cuts one repeat out of it, to draw corners with. It is pure: values in, values out.
//
//	picture  decodes what a tablet sends, and refuses what would cost too much
//	flat     finds the sheet's edges, and draws the fabric as seen from straight above
//	repeat   finds how the print repeats and where it mirrors
//	made     makes photographs of known truth, for tests only
package photo
