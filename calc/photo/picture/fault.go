package picture

// A Fault is why a picture is not read: whole sentences for a person.
type Fault string

func (f Fault) Error() string { return string(f) }

// Faults: what it is, the limit, what to do.
const (
	ErrTooManyBytes Fault = "This file is larger than 12 MB. " +
		"Send a smaller picture: a photograph 2,400 pixels wide is enough."
	ErrTooManyPixels Fault = "This picture has more pixels than can be read here: 24 million " +
		"at most, fewer where it is stored in a way that takes more memory (progressive, PNG). " +
		"Make it smaller, 2,400 pixels wide, and send it again."
	ErrTooSmall Fault = "This picture is too small: each side needs at least 200 pixels. " +
		"Take the photograph with the camera, not from a preview."
	ErrTooNarrow Fault = "This picture is too narrow: its longer side may be 12 times the shorter " +
		"one at most. Cut it down to the sheet and the fabric round it, and send it again."
	ErrHEIC Fault = "This is a HEIC picture, which can't be read here. Set the camera to " +
		"\"most compatible\" (JPEG), or take the photograph from this page."
	ErrLossless Fault = "This WebP picture is coded without loss, or has transparency, and is too " +
		"large for that: some 100 KB at most. Save it as a JPEG and send that."
	ErrCMYK Fault = "This picture has the colors of a printing press (CMYK), " +
		"and does not say how to read them. Save it as a JPEG in RGB and send that."
	ErrFormat Fault = "This file is no picture that can be read here. " +
		"Send a JPEG, PNG or WebP picture."
	ErrDamaged Fault = "This picture is damaged or cut short. " +
		"Take it again, or send the file again."
)
