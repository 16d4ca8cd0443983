package cornea

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/gonum/mat"

	"simview/internal/zernike"
)

// Front is the front of a cornea as a map gives it: the conic that fits best,
// the wavefront in terms, and what no term takes up as a map.
type Front struct {
	Best     Conic         // of index [CorneaIndex]
	RadiusMM float64       // of the disc about the map's centre without a hole
	Terms    zernike.Terms // orders 0 to 8 over that disc, µm
	Fine     Rest          // the rest of the wavefront
}

// Sizes of a map.
const (
	leastRadiusMM = 1.5  // a map must cover at least a bright pupil
	mapStepMM     = 0.05 // of the map that is kept, or half of the file's step
	finestMM      = 0.03 // but never finer: no instrument resolves so much
	smoothOrder   = 6    // taken out before reading between places
	conicOrder    = 8    // of the terms of the conic
	fittedOrder   = 6    // of the terms of what the conic leaves
	mapWaveNM     = 555
)

// ReadMap reads a map from CSV, whose first line names layout, quantity and
// unit; see [Layout] and [Quantity]. name is used in errors, which say what is
// wrong and where: another unit, a hole, places that are not even, a map that
// covers less than 3 mm, heights of something else than a whole cornea.
func ReadMap(r io.Reader, name string, l Layout, q Quantity) (*Front, error) {
	rows, column, err := readSamples(r, name, l, q)
	if err != nil {
		return nil, err
	}
	order := gridField
	if l == Radial {
		order = radialField
	}
	f, err := order(rows, name)
	if err != nil {
		return nil, err
	}
	if f.radiusMM < leastRadiusMM {
		return nil, fmt.Errorf("%s: the map covers a disc of %.2f mm about its centre; at least %g mm are needed", name, 2*max(0, f.radiusMM), 2*leastRadiusMM)
	}
	value, err := f.smoothed()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return frontOf(heights(value, column), f, name)
}

// smoothed returns the value anywhere: a fit of low order, and between places
// only what it leaves, so that reading between them bends nothing.
func (f *field) smoothed() (read, error) {
	var xs, ys, vs []float64
	for _, s := range f.places {
		if math.Hypot(s.x, s.y) <= f.radiusMM {
			xs, ys, vs = append(xs, s.x), append(ys, s.y), append(vs, s.value)
		}
	}
	low, _, err := zernike.Fit(xs, ys, vs, f.radiusMM, smoothOrder)
	if err != nil {
		return nil, err
	}
	left := make([]float64, len(f.places))
	for i, s := range f.places {
		left[i] = s.value - low.PathUM(s.x, s.y)
	}
	rest := f.fill(left)
	return func(x, y float64) float64 { return low.PathUM(x, y) + rest(x, y) }, nil
}

// heights returns heights in µm. Axial curvature is added up along the meridian:
//
//	r_a = 337.5 / K,  sin φ = ρ / r_a,  h(ρ) = -∫ tan φ dρ
func heights(value read, column string) read {
	if column == "height_um" {
		return value
	}
	radius := value
	if column == "curvature_d" {
		radius = func(x, y float64) float64 { return 1000 * (KeratometricIndex - 1) / value(x, y) }
	}
	return func(x, y float64) float64 {
		const steps = 24 // Simpson's rule: even 4 mm out below 1e-4 µm
		rho := math.Hypot(x, y)
		sum := 0.0
		for i := 1; i <= steps; i++ {
			t := float64(i) / steps
			s := t * rho / radius(t*x, t*y)
			w := 2.0
			switch {
			case i == steps:
				w = 1
			case i%2 == 1:
				w = 4
			}
			sum += w * s / math.Sqrt(1-s*s)
		}
		return -1000 * sum * rho / (3 * steps)
	}
}

// frontOf fits the conic and turns what it leaves into terms and a map.
func frontOf(height read, f *field, name string) (*Front, error) {
	step := min(mapStepMM, max(finestMM, f.stepMM/2))
	half := int(f.radiusMM/step) + 2
	s := &Surface{
		before: 1, behind: CorneaIndex, step: step, half: half, scale: 1,
		irr: Irregularity{GrainMM: 4 * step, ZoneRadiusMM: f.radiusMM},
	}
	s.height = make([]float64, s.side()*s.side())
	inside := func(do func(i int, x, y float64)) {
		for i := range s.height {
			x, y := step*float64(i%s.side()-half), step*float64(i/s.side()-half)
			if k := math.Hypot(x, y) / f.radiusMM; k <= 1 {
				do(i, x, y)
			} else { // carried on level, so that reading near the edge meets no step
				do(i, x/k, y/k)
			}
		}
	}
	inside(func(i int, x, y float64) { s.height[i] = height(x, y) })
	best, model, err := fitConic(s, f.radiusMM)
	if err != nil {
		return nil, fmt.Errorf("%s: %w%s", name, err, s.heightDoubt(f.radiusMM))
	}
	inside(func(i int, x, y float64) { s.height[i] -= model(x, y) })
	fine, err := s.Split(f.radiusMM, fittedOrder, mapWaveNM)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	terms, err := best.terms(f.radiusMM).Add(fine.Fitted)
	return &Front{Best: best, RadiusMM: f.radiusMM, Terms: terms, Fine: fine}, err
}

// terms returns the wavefront of the conic, traced exactly from its paraxial
// focus, in orders 0 to 8 over a pupil of radius aMM.
//
//	c(n,0) = ∫_0^1 W(a√u) √(n+1) R_n(√u) du      u = ρ²
func (k Conic) terms(aMM float64) zernike.Terms {
	t := zernike.Terms{RadiusMM: aMM, WavelengthNM: mapWaveNM}
	const steps = 400
	for n := conicOrder; n >= 0; n -= 2 {
		sum := 0.0
		for i := range steps {
			rho := math.Sqrt((float64(i) + 0.5) / steps)
			sum += k.aheadAt(aMM*rho) * zernike.Radial(n, 0, rho)
		}
		t = t.With(n, 0, 1000*zernike.Norm(n, 0)*sum/steps)
	}
	return t
}

// fitConic finds radius and Q, beside a plane, that fit the heights inside a
// disc best, by Gauss-Newton steps, and returns the fitted heights in µm.
//
//	h = a + b x + c y - 1000 sag(R, Q)
func fitConic(s *Surface, discMM float64) (Conic, read, error) {
	k := Conic{RadiusMM: 7.8, Q: -.2, N: CorneaIndex}
	var plane [3]float64
	for range 20 {
		step, err := conicStep(s, k, discMM)
		if err != nil {
			return k, nil, err
		}
		plane = [3]float64{step[0], step[1], step[2]}
		k.RadiusMM = 1 / (1/k.RadiusMM + step[3])
		k.Q += step[4]
		if !(k.RadiusMM > 4 && k.RadiusMM < 14 && math.Abs(k.Q) < 10) {
			return k, nil, fmt.Errorf("the surface that fits best has a radius of %.4g mm and Q %.3g, which is no cornea; heights must be in µm, positive towards the observer, and of the whole surface, not above a sphere", k.RadiusMM, k.Q)
		}
		if math.Abs(step[3]) < 1e-10 && math.Abs(step[4]) < 1e-8 {
			break
		}
	}
	return k, func(x, y float64) float64 {
		z, _ := k.sag(math.Hypot(x, y))
		return plane[0] + plane[1]*x + plane[2]*y - 1000*z
	}, nil
}

// conicStep solves one linear problem: the plane, and the changes of 1/R and Q.
func conicStep(s *Surface, k Conic, discMM float64) ([5]float64, error) {
	const dc, dq = 1e-5, 1e-3
	c, q := Conic{1 / (1/k.RadiusMM + dc), k.Q, k.N}, Conic{k.RadiusMM, k.Q + dq, k.N}
	var a [25]float64
	var b, out [5]float64
	for i := range s.height {
		x, y := s.step*float64(i%s.side()-s.half), s.step*float64(i/s.side()-s.half)
		r := math.Hypot(x, y)
		if r > discMM {
			continue
		}
		z, _ := k.sag(r)
		zc, _ := c.sag(r)
		zq, _ := q.sag(r)
		row := [5]float64{1, x, y, -1000 * (zc - z) / dc, -1000 * (zq - z) / dq}
		for m := range 5 {
			b[m] += row[m] * (s.height[i] + 1000*z)
			for n := range 5 {
				a[5*m+n] += row[m] * row[n]
			}
		}
	}
	var sol mat.VecDense
	if err := sol.SolveVec(mat.NewDense(5, 5, a[:]), mat.NewVecDense(5, b[:])); err != nil {
		if _, poor := err.(mat.Condition); !poor {
			return out, fmt.Errorf("no conic fits the map: %w", err)
		}
	}
	copy(out[:], sol.RawVector().Data)
	for _, v := range out {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return out, fmt.Errorf("no conic fits the map; check its heights")
		}
	}
	return out, nil
}

// PathUM returns the wavefront in orders 3 and up at (xMM, yMM) of the map, in
// µm; what no term takes up is 0 outside the disc.
func (f *Front) PathUM(xMM, yMM float64) float64 {
	return f.Terms.Keep(3, f.Terms.Order()).PathUM(xMM, yMM) + f.FineUM(xMM, yMM)
}

// BackUM returns the wavefront of the map taken as one of the back of the
// cornea, in orders 3 and up, in µm: what the conic leaves of the heights, times
// [BackShare]. The conic of a back surface is left to what is usual.
func (f *Front) BackUM(xMM, yMM float64) float64 {
	t := f.Fine.Fitted
	return BackShare * (t.Keep(3, t.Order()).PathUM(xMM, yMM) + f.FineUM(xMM, yMM))
}

// FineUM returns what no term takes up, in µm; 0 outside the disc.
func (f *Front) FineUM(xMM, yMM float64) float64 {
	if math.Hypot(xMM, yMM) > f.RadiusMM {
		return 0
	}
	return f.Fine.PathUM(xMM, yMM)
}
