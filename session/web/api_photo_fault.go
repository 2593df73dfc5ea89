package web

import (
	"errors"
	"net/http"

	"cornerwise/calc/photo"
)

// photoFaults are why a photo is not taken, or can't be looked at so.
var photoFaults = []struct {
	err    error
	status int
	field  string
}{
	{photo.ErrTooManyBytes, http.StatusRequestEntityTooLarge, "photo"},
	{photo.ErrTooManyPixels, http.StatusRequestEntityTooLarge, "photo"},
	{photo.ErrHEIC, http.StatusUnsupportedMediaType, "photo"},
	{photo.ErrLossless, http.StatusUnsupportedMediaType, "photo"},
	{photo.ErrCMYK, http.StatusUnsupportedMediaType, "photo"},
	{photo.ErrFormat, http.StatusUnsupportedMediaType, "photo"},
	{photo.ErrTooSmall, http.StatusUnprocessableEntity, "photo"},
	{photo.ErrTooNarrow, http.StatusUnprocessableEntity, "photo"},
	{photo.ErrDamaged, http.StatusUnprocessableEntity, "photo"},
	{photo.ErrCorners, http.StatusUnprocessableEntity, "corners"},
}

func isPhotoFault(err error) bool { return photoFault(err) != nil }

func photoFault(err error) *problem {
	for _, f := range photoFaults {
		if errors.Is(err, f.err) {
			return &problem{status: f.status, Code: "bad-photo", Field: f.field, Message: err.Error()}
		}
	}
	return nil
}
