//go:build !race

package quality_test

import (
	"math"
	"strings"
	"testing"

	"simview/internal/csf"
	"simview/internal/fft"
	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/unit"
	"simview/internal/zernike"
)

func flat(_, _ float64) float64 { return 0 }

func pupil(t *testing.T, mm float64, path func(x, y float64) float64) *quality.Pupil {
	t.Helper()
	p, err := quality.NewPupil(mm, path)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestTheIdealEyeHasAVisualStrehlRatioOfOne(t *testing.T) {
	const rounding = 1e-12 // the same sums divided by each other
	for _, mm := range []float64{1.2, 5.5} {
		if v := pupil(t, mm, flat).VisualStrehl(refraction.PowerVector{}); math.Abs(v-1) > rounding {
			t.Errorf("%g mm: %v, want 1", mm, v)
		}
	}
	piston := pupil(t, 4, func(_, _ float64) float64 { return 0.3 })
	if v := piston.VisualStrehl(refraction.PowerVector{}); math.Abs(v-1) > rounding {
		t.Errorf("a piston of 0.3 µm: %v, want 1: it moves no light", v)
	}
}

// TestTheVisualStrehlRatioIsThatOfItsDefinition takes the way of the definition
// (VSOTF of Thibos, Hong, Bradley and Applegate 2004, J Vis 4:329): OTF by a
// second transform, weighted in frequency; the program sums in space.
func TestTheVisualStrehlRatioIsThatOfItsDefinition(t *testing.T) {
	const (
		mm     = 3.0
		tight  = 1e-9 // both are finite sums over one lattice, in float64
		coarse = 1e-3 // the mean slope of coma is 0 on a disc, not quite on a lattice
	)
	coma := zernike.Terms{RadiusMM: mm / 2}.With(4, -2, 0.12).With(4, 0, 0.05)
	defocus := refraction.PowerVector{M: 0.5, J45: 0.25}
	aberrated := func(x, y float64) float64 { return coma.PathUM(x, y) + defocus.PathUM(x, y) }
	want := inFrequency(t, mm, aberrated) / inFrequency(t, mm, flat)
	got := pupil(t, mm, coma.PathUM).VisualStrehl(defocus)
	if math.Abs(got-want) > tight {
		t.Errorf("in space %v, in frequency %v", got, want)
	}
	coma = coma.With(3, 1, 0.1)
	want = inFrequency(t, mm, coma.PathUM) / inFrequency(t, mm, flat)
	if got := pupil(t, mm, coma.PathUM).VisualStrehl(refraction.PowerVector{}); math.Abs(got-want) > coarse {
		t.Errorf("with coma: in space %v, in frequency %v", got, want)
	}
}

// TestAPrismIsNoBlur: the eye turns to look at what it wants to see.
func TestAPrismIsNoBlur(t *testing.T) {
	w := zernike.Terms{RadiusMM: 2}.With(2, 0, 0.2).With(3, -1, 0.1)
	still := pupil(t, 4, w.PathUM)
	moved := pupil(t, 4, w.With(1, 1, 2).With(1, -1, -1).PathUM)
	a, b := still.VisualStrehl(refraction.PowerVector{}), moved.VisualStrehl(refraction.PowerVector{})
	if math.Abs(a-b) > 1e-9 {
		t.Errorf("ratio %v, with a prism %v", a, b)
	}
	ea, _ := still.Refract(still.FlatStart())
	if eb, _ := moved.Refract(moved.FlatStart()); ea != eb {
		t.Errorf("refracted to %v, with a prism to %v", ea, eb)
	}
}

// inFrequency returns sum_f CSF_N(f) Re OTF(f) of a path over a clear pupil.
func inFrequency(t *testing.T, mm float64, path func(x, y float64) float64) float64 {
	t.Helper()
	const across, n, nm = 96, 256, 555.0
	step := mm / across
	plan, err := fft.NewComplex2D(n, n)
	if err != nil {
		t.Fatal(err)
	}
	field := make([]complex128, n*n)
	for k := range across * across {
		i, j := k%across, k/across
		x, y := (float64(i)+0.5-across/2)*step, (float64(j)+0.5-across/2)*step
		if math.Hypot(x, y) <= mm/2 {
			s, c := math.Sincos(2 * math.Pi * path(x, y) * 1000 / nm)
			field[j*n+i] = complex(c, s)
		}
	}
	plan.Forward(field)
	for k, v := range field {
		field[k] = complex(real(v)*real(v)+imag(v)*imag(v), 0)
	}
	plan.Forward(field)
	cpd := step * 1e-3 / (nm * 1e-9) * math.Pi / 180
	var sum float64
	for k, v := range field {
		f := cpd * math.Hypot(float64((k%n+n/2)%n-n/2), float64((k/n+n/2)%n-n/2))
		if m := csf.MeanMTF(f, csf.DataPupilMM); m > 0 {
			sum += csf.WatsonAhumada{}.Whole(f) / m * real(v) / real(field[0])
		}
	}
	return sum
}

// TestTheOTFSumEqualsADirectAutocorrelation adds the overlap of the pupil with
// its shifted self sample by sample, without any transform, for a defocus.
func TestTheOTFSumEqualsADirectAutocorrelation(t *testing.T) {
	if testing.Short() {
		t.Skip("a sum over all pairs of samples")
	}
	const mm, tight = 2.0, 1e-9 // finite sums of about 5e7 terms of size 1 in float64
	e := refraction.Sphere(0.75)
	want := direct(mm, e.PathUM) / direct(mm, flat)
	if got := pupil(t, mm, flat).VisualStrehl(e); math.Abs(got-want) > tight {
		t.Errorf("by transform %v, pair by pair %v", got, want)
	}
}

// direct is sum over shifts of CSF_N Re sum_p A(p) conj A(p + shift).
func direct(mm float64, path func(x, y float64) float64) float64 {
	const across, nm = 96, 555.0
	step := mm / across
	var field [across * across]complex128
	for k := range field {
		x, y := (float64(k%across)+0.5-across/2)*step, (float64(k/across)+0.5-across/2)*step
		if math.Hypot(x, y) <= mm/2 {
			s, c := math.Sincos(2 * math.Pi * path(x, y) * 1000 / nm)
			field[k] = complex(c, s)
		}
	}
	cpd := step * 1e-3 / (nm * 1e-9) * math.Pi / 180
	var sum, energy float64
	for dj := -across + 1; dj < across; dj++ {
		for di := -across + 1; di < across; di++ {
			f := cpd * math.Hypot(float64(di), float64(dj))
			m := csf.MeanMTF(f, csf.DataPupilMM)
			if m <= 0 {
				continue
			}
			sum += csf.WatsonAhumada{}.Whole(f) / m * overlap(&field, di, dj)
		}
	}
	energy = overlap(&field, 0, 0)
	return sum / energy
}

func overlap(field *[96 * 96]complex128, di, dj int) float64 {
	const n = 96
	var sum float64
	for j := max(0, -dj); j < min(n, n-dj); j++ {
		for i := max(0, -di); i < min(n, n-di); i++ {
			a, b := field[j*n+i], field[(j+dj)*n+i+di]
			sum += real(a)*real(b) + imag(a)*imag(b)
		}
	}
	return sum
}

func TestMoreDefocusIsWorse(t *testing.T) {
	for _, sign := range []unit.Dioptres{1, -1} {
		p := pupil(t, 4, flat)
		last := p.VisualStrehl(refraction.PowerVector{})
		for d := unit.Dioptres(0.125); d <= 1.5; d += 0.125 {
			v := p.VisualStrehl(refraction.Sphere(sign * d))
			if v >= last {
				t.Errorf("%+v D gives %.4f, %.4f with an eighth less", sign*d, v, last)
			}
			last = v
		}
	}
}

// TestADefocusAndItsOppositeAreAlikeForAClearPupil: OTF(-W) is the conjugate of
// OTF(W) for a symmetric pupil (Goodman, Introduction to Fourier Optics, ch. 6).
func TestADefocusAndItsOppositeAreAlikeForAClearPupil(t *testing.T) {
	p := pupil(t, 4, flat)
	for _, e := range []refraction.PowerVector{{M: 0.5}, {J0: 0.5}, {J45: 0.25}, {M: 0.25, J0: -0.25}} {
		a, b := p.VisualStrehl(e), p.VisualStrehl(e.Times(-1))
		if math.Abs(a-b) > 1e-12 {
			t.Errorf("%v gives %v, its opposite %v", e, a, b)
		}
	}
}

func TestRefractFindsTheWayBackFromEveryPureError(t *testing.T) {
	const lensStep = 0.25 // a trial case has nothing between (trade practice)
	for _, e := range []refraction.PowerVector{{M: -2}, {J45: -0.75}, {M: 1, J0: -0.4, J45: 0.3}, {M: 4.1, J0: 1.1}} {
		p := pupil(t, 4, e.PathUM)
		got, score := p.Refract(p.FlatStart())
		if left := got.Add(e); left.Length() > lensStep {
			t.Errorf("error %v: found %v, leaves %v", e, got, left)
		}
		if score < p.VisualStrehl(refraction.PowerVector{}) {
			t.Errorf("error %v: the ratio fell to %v", e, score)
		}
		if math.Abs(score-p.VisualStrehl(got)) > 1e-12 {
			t.Errorf("error %v: says %v, is %v", e, score, p.VisualStrehl(got))
		}
	}
}

func TestRefractRecoversFromAStartThatIsOff(t *testing.T) {
	e := refraction.PowerVector{M: -1, J0: 0.25}
	p := pupil(t, 4, e.PathUM)
	got, _ := p.Refract(refraction.PowerVector{M: 0.25, J0: 0, J45: 0.25})
	if left := got.Add(e); left.Length() > 0.25 {
		t.Errorf("found %v for an error of %v", got, e)
	}
}

func TestTheFlatStartIsTheLeastSquaresRefraction(t *testing.T) {
	// Formula of Thibos et al. 2004 (M = -4√3 c20/r² and so on), written here.
	const r, lattice = 2.5, 0.02 // D; 96 samples across see the rim in steps
	w := zernike.Terms{RadiusMM: r}.With(2, 0, 0.8).With(2, 2, -0.3).With(2, -2, 0.2).With(4, 0, 0.15).With(3, 1, 0.2)
	p := pupil(t, 2*r, w.PathUM)
	got := p.FlatStart()
	want := refraction.PowerVector{
		M: 4 * 1.7320508 * 0.8 / (r * r), J0: 2 * 2.4494897 * -0.3 / (r * r), J45: 2 * 2.4494897 * 0.2 / (r * r),
	}
	if d := got.Sub(want); d.Length() > lattice {
		t.Errorf("flattens with %+v, want %+v", got, want)
	}
}

func TestAPupilThatIsNoneIsRefused(t *testing.T) {
	for _, mm := range []float64{0, -3, math.NaN(), math.Inf(1)} {
		_, err := quality.NewPupil(mm, flat)
		if err == nil || !strings.Contains(err.Error(), "must be positive") {
			t.Errorf("%g mm: %v", mm, err)
		}
	}
	for _, bad := range []float64{math.NaN(), math.Inf(-1)} {
		_, err := quality.NewPupil(3, func(x, _ float64) float64 { return bad * x })
		if err == nil || !strings.Contains(err.Error(), "finite") {
			t.Errorf("a path of %g: %v", bad, err)
		}
	}
}
