package raytrace

import (
	"fmt"

	"simview/internal/unit"
)

// Medium is what lies between two surfaces.
type Medium struct {
	Name string
	// N is the refractive index at the system's wavelength; with a gradient it
	// is not used.
	N float64
	// Grad is the gradient of the index, nil for a uniform medium.
	Grad *Gradient
	// Chroma returns the index minus the index at the system's wavelength, for
	// a wavelength in nm; nil where no dispersion is known. Air and the like
	// use [NoChroma].
	Chroma func(nm float64) float64
}

// NoChroma is the dispersion of a medium that has none (air).
func NoChroma(float64) float64 { return 0 }

// Gradient is a medium whose index changes with place, in its own frame:
//
//	n = N0 + A1 z + A2 z² + B w²,  w² = x² + y²
//
// z and w in mm; the form of Liou and Brennan (1997) and of Atchison (2006).
type Gradient struct {
	At            Frame
	N0, A1, A2, B float64
}

// index returns n and its slope (1/mm) at a point of the eye's frame.
func (g *Gradient) index(p Vec) (float64, Vec) {
	q := g.At.in(p)
	n := g.N0 + g.A1*q.Z + g.A2*q.Z*q.Z + g.B*(q.X*q.X+q.Y*q.Y)
	slope := Vec{2 * g.B * q.X, 2 * g.B * q.Y, g.A1 + 2*g.A2*q.Z}
	return n, g.At.r.apply(slope)
}

// indexAt returns the refractive index of the medium at a point.
func (m *Medium) indexAt(p Vec) float64 {
	if m.Grad == nil {
		return m.N
	}
	n, _ := m.Grad.index(p)
	return n
}

// atWavelength returns the medium at another wavelength.
func (m Medium) atWavelength(nm unit.NM) (Medium, error) {
	if m.Chroma == nil {
		return m, fmt.Errorf("%s: no index is tabulated at %g nm; trace at the wavelength of the prescription", m.Name, float64(nm))
	}
	d := m.Chroma(float64(nm))
	old := m.Chroma
	m.N += d
	m.Chroma = func(w float64) float64 { return old(w) - d }
	if m.Grad != nil {
		g := *m.Grad
		g.N0 += d
		m.Grad = &g
	}
	return m, nil
}

// moved returns the medium with its gradient carried along by the motion.
func (m Medium) moved(by motion) Medium {
	if m.Grad != nil {
		g := *m.Grad
		g.At = g.At.moved(by)
		m.Grad = &g
	}
	return m
}
