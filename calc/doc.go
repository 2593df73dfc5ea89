// Package calc reckons a mitered border: from a plan (the quilt center, the
// borders, the seam allowance) to a sheet (strips, marks, corners, sizes).
//
// It is pure: values in, values out. Lengths are exact until they are shown;
// every rounding has a name and a direction.
//
// The geometry, once, in words. The dot is where the seams of two neighbouring
// edges meet, a seam allowance in from both raw edges of the center. Put it at
// the origin, with the side band reaching to x = S and the top band to y = T,
// both finished. The miter is the line from the dot to (S, T); its length is
// H = √(S² + T²). Everything about a corner follows from S, T and the seam
// allowance s.
package calc
