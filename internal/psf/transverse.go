package psf

import (
	"math"

	"simview/internal/unit"
)

// PupilFringe returns how far from its place, in degrees as the patient sees it,
// light of a wavelength in nm is seen because the pupil's centre lies at c (mm,
// clinician's axes) from the achromatic axis: the slope at the centre of the bend
// -R r²/2 that a change R of focus is,
//
//	(x, y) = R (c_x, -c_y),  R = LCA(λ) - LCA(focus)
//
// mm times D being 10⁻³ radians: 3.438' for a dioptre and a millimetre. A pupil off
// towards the temple shows red on the side of the nose.
func PupilFringe(c unit.PupilPoint, nm float64, opt Options) unit.SightPoint {
	r := focusShift(nm, opt) * 1e-3 / degree
	return unit.SightPoint{X: unit.Degrees(r * float64(c.X)), Y: unit.Degrees(-r * float64(c.Y))}
}

// transverseSlope returns the slope in µm/mm of the path that shows a wavelength
// beside its place: (-dW/dx, +dW/dy) is where it is seen.
func transverseSlope(nm float64, opt Options) (x, y float64) {
	if opt.Transverse == nil {
		return 0, 0
	}
	at := opt.Transverse(nm)
	return -float64(at.X) * degree * 1e3, float64(at.Y) * degree * 1e3
}

// sideways is the furthest that a wavelength is seen beside its place, radians.
func sideways(lines []Line, opt Options) (most float64) {
	for _, l := range lines {
		x, y := transverseSlope(l.NM, opt)
		most = max(most, math.Hypot(x, y)*1e-3)
	}
	return most
}

// Placed is a share of the light seen at a direction.
type Placed struct {
	At     unit.SightPoint // degrees as the patient sees, from straight ahead
	Weight float64         // above 0
}

// Laid returns the spread laid out at several places, each with its share of the
// light, as one primary is whose wavelengths are seen beside each other:
//
//	P'(u) = sum over k of w_k P(u - u_k),  sum of w_k = 1
//
// The weights are made to add to 1; each copy is shared between the four samples
// about its place, which widens it by less than half a sample. What leaves the
// support is laid back on its other side, as a transform does. The light beside
// the lens stays where it is.
func (p *PSF) Laid(places []Placed) *PSF {
	out := &PSF{
		N: p.N, StepDeg: p.StepDeg, Pix: make([]float32, len(p.Pix)), Outside: p.Outside,
		Beside: p.Beside, Lines: p.Lines, PupilMM: p.PupilMM,
	}
	sum := 0.0
	for _, k := range places {
		sum += k.Weight
	}
	for _, k := range places {
		right, down := float64(k.At.X)/p.StepDeg, -float64(k.At.Y)/p.StepDeg
		i, j := math.Floor(right), math.Floor(down)
		fi, fj := right-i, down-j
		for n, part := range [4]float64{(1 - fi) * (1 - fj), fi * (1 - fj), (1 - fi) * fj, fi * fj} {
			out.addMoved(p.Pix, int(i)+n%2, int(j)+n/2, float32(k.Weight/sum*part))
		}
	}
	return out
}

// addMoved adds w times a raster moved by whole samples to the right and down.
func (p *PSF) addMoved(pix []float32, right, down int, w float32) {
	if w == 0 {
		return
	}
	n := p.N
	right = (right%n + n) % n
	for j := range n {
		to := p.Pix[((j+down)%n+n)%n*n:][:n]
		from := pix[j*n:][:n]
		for i, v := range from[:n-right] {
			to[i+right] += w * v
		}
		for i, v := range from[n-right:] {
			to[i] += w * v
		}
	}
}
