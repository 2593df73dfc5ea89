// Package flat makes of a photograph of fabric, with a sheet of known size lying on it, a picture
// of the fabric as seen from straight above, to scale.
//
//	point.go       a place; four corners
//	homography.go  from one plane to another, by four corners (Heckbert 1989)
//	lens.go        what a lens bends, and how it is made straight
//	edge.go        where one side of the sheet ends
//	line.go        the line on which most of the places agree
//	view.go        from the corners as touched to the way in which the photo sees the fabric
//	shape.go       how long the sheet is to its width, from its corners alone
//	flat.go        the flat picture
//	window.go      where a piece of fabric is seen whole
//	cut.go         one repeat, straight from the photo
//
// Places in a picture are in pixels, the middles of pixels at whole numbers. Places on the fabric
// are in inches from the sheet's first corner, x along its first edge, y along its last.
package flat
