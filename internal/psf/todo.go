package psf

type lazy struct{}

// OTF is the optical transfer function.
type OTF struct{}

// Compute, signatures first: bodies follow.
func Compute(a Aperture, lines []Line, opt Options) (*PSF, error) { panic("psf: not written yet") }
func (p *PSF) Share(leftDeg, rightDeg, bottomDeg, topDeg float64) float64 {
	panic("psf: not written yet")
}
func (p *PSF) Tail(thetaDeg float64) float64                { panic("psf: not written yet") }
func (p *PSF) RadialProfile() (thetaDeg, perSr []float64)   { panic("psf: not written yet") }
func (p *PSF) Encircled(radiusDeg float64) float64          { panic("psf: not written yet") }
func (p *PSF) Strehl(reference *PSF) float64                { panic("psf: not written yet") }
func (p *PSF) OTF() *OTF                                    { panic("psf: not written yet") }
func (o *OTF) At(fx, fy float64) complex128                 { panic("psf: not written yet") }
func (o *OTF) MTF(f, angleDeg float64) float64              { panic("psf: not written yet") }
func (o *OTF) RadialMTF(f float64) float64                  { panic("psf: not written yet") }
func (o *OTF) OnGrid(w, h int, stepDeg float64) []complex64 { panic("psf: not written yet") }
