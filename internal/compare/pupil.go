package compare

import (
	"simview/internal/cause"
	"simview/internal/light"
	"simview/internal/scene"
)

// eyes is how many eyes look at a scene: the pupils of a person's two eyes go together,
// and are wider where one is covered.
func (o Options) eyes() int {
	if o.OneEye {
		return 1
	}
	return 2
}

// Viewing is how a scene is looked at by a person of an age in years under these
// options: with the pupil of the case, or with the one that is usual for the light
// of the scene, and then what a sheet says of it. An age or a light that the
// formula does not know is an error.
func (o Options) Viewing(s *scene.Scene, ageYears float64) (v cause.Viewing, words string, err error) {
	v = Viewing(s)
	if !o.PupilFromLight {
		return v, "", nil
	}
	v.PupilMM, words, err = light.PupilInLight(s.AdaptCdM2, s.WidthDeg*s.HeightDeg, ageYears, o.eyes())
	return v, words, err
}
