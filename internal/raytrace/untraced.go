package raytrace

import (
	"errors"
	"strings"
)

// ErrMiss marks a ray that does not meet a surface, or meets it outside its edge.
var ErrMiss = errors.New("ray misses the surface")

// ErrReflected marks a ray that is totally reflected inside the eye.
var ErrReflected = errors.New("total internal reflection")

// RayError says which ray could not be traced, and why.
type RayError struct {
	Eye     string // name of the system, may be empty
	Ray     string // where it passes the pupil, may be empty
	Surface string // name of the surface where it ended
	What    string // what happened there
	Kind    error  // [ErrMiss] or [ErrReflected]
}

// Error returns one sentence with what could be tried.
func (e RayError) Error() string { return e.words(e.Eye) + "; try a smaller pupil or displacement" }

// Sentence returns what happened, without the name of the eye and without a hint.
func (e RayError) Sentence() string { return e.words("") }

func (e RayError) words(eye string) string {
	var parts []string
	for _, p := range []string{eye, e.Ray, e.Surface, e.What} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, ": ")
}

// Unwrap returns the kind.
func (e RayError) Unwrap() error { return e.Kind }

// named completes a RayError with the eye and the ray where these are still open;
// any other error is returned as it is.
func named(err error, eye, ray string) error {
	var e RayError
	if !errors.As(err, &e) {
		return err
	}
	if e.Eye == "" {
		e.Eye = eye
	}
	if e.Ray == "" {
		e.Ray = ray
	}
	return e
}

// Subject is what of an eye a description went wrong about.
type Subject int

// The subjects of an [EyeError].
const (
	AboutLength   Subject = iota // the length of the eye, or the power in it
	AboutLensSA                  // spherical aberration of the lens
	AboutCorneaSA                // spherical aberration of the cornea
)

// EyeError says why no eye can be built from a description.
type EyeError struct {
	About Subject
	What  string
	Hint  string
	Err   error // what it came from; may be nil
}

// Error returns one sentence with what could be tried.
func (e EyeError) Error() string { return "implant eye: " + e.What + "; " + e.Hint }

// Unwrap returns what it came from.
func (e EyeError) Unwrap() error { return e.Err }
