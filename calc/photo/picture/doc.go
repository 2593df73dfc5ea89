// Package picture reads what a tablet sends: JPEG, PNG or WebP. It refuses early, from the
// header alone, what would cost too much memory; turns the picture as it was held; and makes it
// smaller by area. What comes out is a Raster.
//
// # What is refused, and why
//
// A header is read first (header.go): the size, how a JPEG is coded, how many bits a PNG has.
// From these follows what the decoder will allocate (cost.go). Only what stays within MostMemory
// is decoded. A progressive JPEG keeps every coefficient as 4 bytes until its end, so that one
// is taken with about a fifth of the pixels of a plain one. CMYK is read where its maker said how
// it is to be read (Adobe's marker); no other is. A WebP without loss is read where it is small, for
// no header tells what its code trees take. Nothing of a picture's metadata is kept; of its
// EXIF one tag is read, the orientation.
//
// A decoder that panics is a damaged picture.
package picture
