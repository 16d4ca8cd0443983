package csf

import "math"

// Barten is the model of Barten 1999 (Contrast Sensitivity of the Human Eye):
// noise of photons and of nerves, with lateral inhibition. It knows the retinal
// illuminance, so it holds in dim light of cone vision too, and the place on the
// retina. The constants are those of published code.
type Barten struct{}

// Constants of Barten 1999 at the fovea.
const (
	bartenK       = 3      // signal to noise at threshold
	bartenTime    = 0.1    // T, integration time, s
	bartenField   = 12     // Xm, largest integration area, degrees
	bartenCycles  = 15     // Nm, most cycles that are integrated
	bartenQuantum = 0.03   // η, quantum efficiency
	bartenPhotons = 1.24e6 // p, photons per second, square degree and troland
	bartenNoise   = 3e-8   // Φ0, neural noise, s deg²
	bartenLateral = 7      // u0, cycles per degree above which inhibition ends
)

// Name returns the name of the model.
func (Barten) Name() string { return "Barten 1999" }

// Key returns the short name of the model.
func (Barten) Key() string { return "barten" }

// Threshold returns one over [Barten.Neural] for a patch one octave wide, whose
// Gaussian of standard deviation σ has the area of a square of side √π σ.
func (b Barten) Threshold(f, eDeg, td float64) float64 {
	return 1 / b.Neural(f, eDeg, td, math.Sqrt(math.Pi)*octaveSigma/f)
}

// Neural returns the sensitivity without the optics to a square grating of f > 0
// cycles per degree and side x0 degrees, e degrees from fixation, at td trolands
// (already lessened by the Stiles-Crawford effect):
//
//	S = 1 / (k √{2/T (1/x0² + 1/Xm² + f²/Nm²) [1/(η p td) + Φ / (1 - exp(-(f/u0)²))]})
//
// Away from fixation, with n the density of ganglion cells over that of the fovea,
//
//	n  = 0.85 / (1 + (e/0.45)²) + 0.15 / (1 + (e/3.3)²)
//	Xm = 12 [0.85 / (1 + (e/4)²) + 0.15 / (1 + (e/12)²)]^-½
//	η  = 0.03 [0.4 / (1 + (e/7)²) + 0.48 / (1 + (e/20)²) + 0.12]
//	Φ  = Φ0 / n
//	u0 = 7 √n [0.85 / (1 + (e/4)²) + 0.13 / (1 + (e/20)²) + 0.02]^-½
func (Barten) Neural(f, eDeg, td, x0 float64) float64 {
	bell := func(w float64) float64 { return 1 / (1 + (eDeg/w)*(eDeg/w)) }
	n := 0.85*bell(0.45) + 0.15*bell(3.3)
	xm := bartenField / math.Sqrt(0.85*bell(4)+0.15*bell(12))
	eta := bartenQuantum * (0.4*bell(7) + 0.48*bell(20) + 0.12)
	u0 := bartenLateral * math.Sqrt(n/(0.85*bell(4)+0.13*bell(20)+0.02))
	area := 1/(x0*x0) + 1/(xm*xm) + f*f/(bartenCycles*bartenCycles)
	noise := 1/(eta*bartenPhotons*td) - bartenNoise/n/math.Expm1(-(f/u0)*(f/u0))
	return 1 / (bartenK * math.Sqrt(2/bartenTime*area*noise))
}
