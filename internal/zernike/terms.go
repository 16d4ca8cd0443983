package zernike

import (
	"errors"
	"fmt"
	"math"
)

// Terms is a wavefront over a round pupil. The zero value has no pupil and is
// refused by every method that needs one.
type Terms struct {
	C            []float64 // coefficients by OSA index j, µm; shorter means 0
	RadiusMM     float64   // radius of the pupil they belong to, mm, > 0
	WavelengthNM float64   // wavelength they were measured at, nm; 0 = not stated
}

// Check returns an error when the radius is not a positive number, the
// wavelength is negative, or any of the numbers is not finite.
func (t Terms) Check() error {
	if !(t.RadiusMM > 0) || math.IsInf(t.RadiusMM, 0) {
		return fmt.Errorf("zernike: pupil radius %v mm: expected a number above 0", t.RadiusMM)
	}
	if !(t.WavelengthNM >= 0) || math.IsInf(t.WavelengthNM, 0) {
		return fmt.Errorf("zernike: wavelength %v nm: expected a number above 0, or 0 for not stated", t.WavelengthNM)
	}
	for j, c := range t.C {
		if math.IsNaN(c) || math.IsInf(c, 0) {
			n, m := NM(j)
			return fmt.Errorf("zernike: coefficient j=%d (%d,%d) is %v: expected a finite number of µm", j, n, m, c)
		}
	}
	return nil
}

// Order returns the highest radial order that C reaches; 0 when C is empty.
func (t Terms) Order() int {
	if len(t.C) == 0 {
		return 0
	}
	n, _ := NM(len(t.C) - 1)
	return n
}

// At returns the coefficient c(n,m) in µm, 0 where C is too short. It panics
// when there is no such term.
func (t Terms) At(n, m int) float64 {
	if j := Index(n, m); j < len(t.C) {
		return t.C[j]
	}
	return 0
}

// With returns a copy in which c(n,m) is c µm. It panics when there is no such
// term.
func (t Terms) With(n, m int, c float64) Terms {
	j := Index(n, m)
	out := make([]float64, max(len(t.C), j+1))
	copy(out, t.C)
	out[j] = c
	t.C = out
	return t
}

// Times returns a copy with every coefficient multiplied by k.
func (t Terms) Times(k float64) Terms {
	out := make([]float64, len(t.C))
	for j, c := range t.C {
		out[j] = k * c
	}
	t.C = out
	return t
}

// Keep returns a copy that holds only the terms of orders lo to hi.
func (t Terms) Keep(lo, hi int) Terms {
	out := make([]float64, len(t.C))
	for j, c := range t.C {
		if n, _ := NM(j); lo <= n && n <= hi {
			out[j] = c
		}
	}
	t.C = out
	return t
}

// PathUM returns the wavefront at the point (xMM, yMM) of the pupil, in µm.
// Outside the pupil the polynomial goes on.
func (t Terms) PathUM(xMM, yMM float64) float64 {
	return planFor(t.Order()).at(t.C, xMM/t.RadiusMM, yMM/t.RadiusMM)
}

// Fill writes the wavefront in µm at the points (xs[i], ys[i]), in mm, into
// dst. It panics when the lengths differ.
func (t Terms) Fill(dst, xs, ys []float64) {
	if len(xs) != len(dst) || len(ys) != len(dst) {
		panic("zernike: Fill: dst, xs and ys must have one length")
	}
	p := planFor(t.Order())
	for i := range dst {
		dst[i] = p.at(t.C, xs[i]/t.RadiusMM, ys[i]/t.RadiusMM)
	}
}

// SlopeUMPerMM returns the slope of the wavefront at (xMM, yMM), in µm per mm
// (which is milliradians).
func (t Terms) SlopeUMPerMM(xMM, yMM float64) (dx, dy float64) {
	dx, dy = planFor(t.Order()).slope(t.C, xMM/t.RadiusMM, yMM/t.RadiusMM)
	return dx / t.RadiusMM, dy / t.RadiusMM
}

// RMS returns the root mean square over the pupil without piston, µm.
//
//	RMS = √(Σ_{j>0} c_j²)
func (t Terms) RMS() float64 { return t.RMSOrders(1, t.Order()) }

// RMSOrders returns the root mean square in µm of the terms of orders lo to hi;
// piston never counts.
func (t Terms) RMSOrders(lo, hi int) float64 {
	sum := 0.0
	for j, c := range t.C {
		if n, _ := NM(j); n > 0 && lo <= n && n <= hi {
			sum = math.Hypot(sum, c)
		}
	}
	return sum
}

// Add returns t + u. Different pupils or different stated wavelengths are an
// error: scale or convert one of them first.
func (t Terms) Add(u Terms) (Terms, error) { return t.combine(u, 1) }

// Sub returns t - u, under the same conditions as [Terms.Add].
func (t Terms) Sub(u Terms) (Terms, error) { return t.combine(u, -1) }

func (t Terms) combine(u Terms, sign float64) (Terms, error) {
	if err := errors.Join(t.Check(), u.Check()); err != nil {
		return Terms{}, err
	}
	if t.RadiusMM != u.RadiusMM {
		return Terms{}, fmt.Errorf("zernike: wavefronts over pupils of radius %g and %g mm cannot be added: scale one of them first", t.RadiusMM, u.RadiusMM)
	}
	if t.WavelengthNM != u.WavelengthNM && t.WavelengthNM*u.WavelengthNM != 0 {
		return Terms{}, fmt.Errorf("zernike: wavefronts at %g and %g nm cannot be added: state both at one wavelength first", t.WavelengthNM, u.WavelengthNM)
	}
	out := make([]float64, max(len(t.C), len(u.C)))
	copy(out, t.C)
	for j, c := range u.C {
		out[j] += sign * c
	}
	return Terms{out, t.RadiusMM, max(t.WavelengthNM, u.WavelengthNM)}, nil
}
