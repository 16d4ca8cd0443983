package plot

import (
	"testing"

	"simview/internal/psf"
	"simview/internal/raytrace"
	"simview/internal/unit"
)

// implant is an eye whose lens leaves it without spherical aberration, so that a
// centred lens brings rays together in a point.
func implant(t *testing.T) raytrace.ImplantEye {
	t.Helper()
	e, err := raytrace.NewImplantEye(raytrace.BenchSpec(raytrace.SphericalAberration{Kind: raytrace.SAWholeEye}))
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func towardsDeg(mm float64, x, y float64) raytrace.DisplacedLens {
	return raytrace.DisplacedLens{Decentration: unit.PupilPoint{X: unit.MM(mm * x), Y: unit.MM(mm * y)}}
}

// subject is the eye with its lens displaced, cut along a meridian.
func subject(t *testing.T, e raytrace.ImplantEye, at raytrace.DisplacedLens, meridian unit.Degrees) Subject {
	t.Helper()
	sys, err := e.At(at)
	if err != nil {
		t.Fatal(err)
	}
	return Subject{Eye: sys, Centred: e.Centred, Meridian: meridian, PupilMM: 5, OpticMM: 6, Rays: 11}
}

func section(t *testing.T, s Subject) *Section {
	t.Helper()
	out, err := NewSection(s)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func spreadOf(t *testing.T, path func(x, y float64) float64, pupilMM float64) *Spread {
	t.Helper()
	p, err := psf.Compute(psf.Aperture{DiameterMM: pupilMM, PathUM: path}, psf.Monochrome(555), psf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewSpread(p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func mapOf(t *testing.T, path func(x, y float64) float64, pupilMM float64) *Map {
	t.Helper()
	m, err := NewMap(path, pupilMM, nil, 200)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
