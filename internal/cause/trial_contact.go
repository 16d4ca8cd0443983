package cause

import (
	"fmt"
	"math"

	"simview/internal/cornea"
	"simview/internal/eye"
	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/unit"
	"simview/internal/zernike"
)

// usualFrontR is the usual radius of a cornea, mm (from memory).
const usualFrontR = 7.8

var contactKinds = []*kind{
	{
		id: "soft-lens", label: "Soft contact lens", at: contactPlane,
		assumes: "drapes over the cornea with even thickness, hides the stated share of the front's irregularity (0 unless given), adds no aberration and stays centred",
		keys: []key{
			{name: "masking", low: 0, high: 1},
			{name: "toric", words: []string{"no", "yes"}},
		},
		apply: soft,
	},
	{
		id: "rigid-lens", label: "Rigid contact lens", at: contactPlane,
		assumes: "tears fill the gap and leave (n_cornea - n_tears)/(n_cornea - 1) of the front surface; the lens's own front is a sphere unless front_q says otherwise, lens and tears of one index, centred; the back of the cornea stays whole",
		keys: []key{
			{name: "cornea_index", usual: cornea.CorneaIndex, low: 1.33, high: 1.45},
			{name: "tear_index", usual: cornea.TearIndex, low: 1.32, high: 1.36},
			{name: "front_q", low: -3, high: 3},
		},
		apply: rigid,
	},
}

// soft takes the glasses off and puts on a lens in quarter dioptres.
func soft(t *tryout, o map[string]float64) error {
	t.change(unevenFront, 1-o["masking"])
	toric := o["toric"] == 1
	t.contact = func(t *tryout, c correction) (correction, error) {
		return t.fitted(c, "soft contact lens", refraction.PowerVector{}, toric)
	}
	return nil
}

// rigid scales what the front of the cornea adds, and puts the lens's own front
// in its place.
func rigid(t *tryout, o map[string]float64) error {
	share, err := cornea.RigidShare(o["cornea_index"], o["tear_index"])
	if err != nil {
		return fmt.Errorf("tear_index must not be above cornea_index (got %g and %g)", o["tear_index"], o["cornea_index"])
	}
	hidden, err := t.hiddenAstigmatism(share, o["cornea_index"])
	if err != nil {
		return err
	}
	t.hide(share, o["cornea_index"], o["tear_index"])
	r := t.e.frontRadius()
	front := spherical(FrontC40UM(r, o["front_q"], o["tear_index"], at6RadiusMM))
	t.s = t.s.With(eye.Part{By: "contact lens", Plane: eye.ContactLens, From: eye.Assumed, PathUM: front.PathUM})
	t.contact = func(t *tryout, c correction) (correction, error) {
		return t.fitted(c, "rigid contact lens", hidden, false)
	}
	return nil
}

// FrontC40UM is c(4,0) in µm of a front surface of radius R (mm) and asphericity
// Q between air and index n, over a pupil of radius a (mm), in third order:
//
//	c(4,0) = 1000 (n-1) (Q + 1/n²) a⁴ / (8 R³ 6√5)
func FrontC40UM(radiusMM, q, n, pupilRadiusMM float64) float64 {
	return 1000 * (n - 1) * (q + 1/(n*n)) * math.Pow(pupilRadiusMM, 4) / (8 * math.Pow(radiusMM, 3) * 6 * math.Sqrt(5))
}

// frontRadius is the mean radius of the front of the cornea, usual if unknown.
func (e *Eye) frontRadius() float64 {
	if b := e.Data.Biometry; b != nil && b.FlatMM.Given() && b.SteepMM.Given() {
		return 2 / (1/float64(b.FlatMM.V) + 1/float64(b.SteepMM.V))
	}
	return usualFrontR
}

// frontAstigmatism is the astigmatism of the front of the cornea as an error at
// the cornea, more short-sighted along its steep meridian α:
//
//	C = 1000 (n-1) (1/R_steep - 1/R_flat),  J0 = -C/2 cos 2α,  J45 = -C/2 sin 2α
//
// Without radii, what the eye needs less the displaced lens's share.
func (t *tryout) frontAstigmatism(n float64) refraction.PowerVector {
	b := t.e.Data.Biometry
	if b == nil || !b.FlatMM.Given() || !b.SteepMM.Given() {
		t.s = t.s.Note("corneal radii not given: all astigmatism but the lens's is taken as the front of the cornea's (assumed)")
		j := t.e.worn
		if t.e.Data.Refraction != nil {
			j = t.e.need
		}
		if t.e.lens != nil {
			j = j.Sub(t.e.lens.share)
		}
		return refraction.PowerVector{J0: j.J0, J45: j.J45}
	}
	c := 1000 * (n - 1) * (1/float64(b.SteepMM.V) - 1/float64(b.FlatMM.V))
	sin, cos := math.Sincos(2 * b.SteepAxisDeg.V.Radians())
	return refraction.PowerVector{J0: unit.Dioptres(-c / 2 * cos), J45: unit.Dioptres(-c / 2 * sin)}
}

// hiddenAstigmatism is what the lens takes from the error that is kept apart
// from the wavefront: that of the front less what its parts hold themselves.
func (t *tryout) hiddenAstigmatism(share, n float64) (refraction.PowerVector, error) {
	a := t.frontAstigmatism(n)
	in, err := powerOf(t.s, onFront)
	if err != nil {
		return in, err
	}
	in.M = 0
	return a.Sub(in).Times(1 - share), nil
}

// powerOf is the refraction of some parts of a state, by RMS fit over its pupil.
func powerOf(s eye.State, which func(eye.Part) bool) (refraction.PowerVector, error) {
	t, _, err := fitted(s.Without(func(p eye.Part) bool { return !which(p) }))
	if err != nil {
		return refraction.PowerVector{}, err
	}
	return refraction.FromTermsRMS(t)
}

// fitted fits orders 0 to 2 to a state over its pupil and returns what they
// leave, µm.
func fitted(s eye.State) (zernike.Terms, []float64, error) {
	const across = 64
	return quality.FitPath(s.PupilMM, s.Aperture().PathUM, across, 2)
}

// fitted chooses the lens: the unaided error less what the lens hides is made
// up for by a sphere, or with its cylinder by a toric lens, in quarter dioptres:
//
//	U = P + w - hidden,  left = U - lens
func (t *tryout) fitted(now correction, name string, hidden refraction.PowerVector, toric bool) (correction, error) {
	p, err := t.pupil()
	if err != nil {
		return correction{}, err
	}
	unaided := now.left.Add(now.glasses).Sub(hidden)
	var lens refraction.SphereCylinder
	if toric {
		best, _ := p.Refract(p.FlatStart())
		lens = unaided.Sub(best).Round025()
	} else {
		lens = bestSphere(p, unaided)
	}
	words := fmt.Sprintf("%s %s", name, lens)
	return correction{left: unaided.Sub(lens.PowerVector()), words: words}, nil
}

// sphereSteps is how many quarter dioptres either side of the RMS sphere are
// tried.
const sphereSteps = 8

// bestSphere is the sphere in quarter dioptres that leaves the highest visual
// Strehl ratio.
func bestSphere(p *quality.Pupil, unaided refraction.PowerVector) refraction.SphereCylinder {
	start := refraction.Sphere(unaided.M - p.FlatStart().M).Round025().Sphere
	best, score := start, math.Inf(-1)
	for k := -sphereSteps; k <= sphereSteps; k++ {
		d := start + 0.25*unit.Dioptres(k)
		if v := p.VisualStrehl(unaided.Sub(refraction.Sphere(d))); v > score {
			best, score = d, v
		}
	}
	return refraction.SphereCylinder{Sphere: best, AxisDeg: 180}
}
