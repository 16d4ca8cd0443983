package psf

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// boxed adds the samples' overlaps with a box, one by one.
func boxed(p *PSF, left, right, bottom, top float64) float64 {
	overlap := func(mid, lo, hi float64) float64 {
		d := p.StepDeg
		return max(0, min(mid+d/2, hi)-max(mid-d/2, lo)) / d
	}
	sum := 0.0
	for j := range p.N {
		for i := range p.N {
			x, y := float64(i-p.N/2)*p.StepDeg, float64(p.N/2-j)*p.StepDeg
			sum += float64(p.Pix[j*p.N+i]) * overlap(x, left, right) * overlap(y, bottom, top)
		}
	}
	return sum
}

func TestShareAddsUpTheSamplesInABox(t *testing.T) {
	p := lopsided(t)
	r := rand.New(rand.NewPCG(5, 6))
	for range 12 {
		x, y := (r.Float64()-.5)*.3, (r.Float64()-.5)*.3
		w, h := r.Float64()*.3, r.Float64()*.01
		near(t, "share", p.Share(x, x+w, y, y+h), boxed(p, x, x+w, y, y+h), 1e-9)
	}
	near(t, "all of it", p.Share(-5, 5, -5, 5), 1, 1e-6)
	near(t, "nothing", p.Share(.1, .1, -1, 1)+p.Share(.2, .1, -1, 1)+p.Share(3, 4, 3, 4), 0, 0)
}

// Tiles of a plane share out all the light, none counted twice.
func TestSharesOfTilesAddUp(t *testing.T) {
	p := lopsided(t)
	sum := 0.0
	const tile = .037
	for i := -40; i < 40; i++ {
		for j := -40; j < 40; j++ {
			x, y := float64(i)*tile, float64(j)*tile
			sum += p.Share(x, x+tile, y, y+tile)
		}
	}
	near(t, "sum over tiles", sum, 1, 1e-6)
}

func TestOneSpreadServesManyGoroutines(t *testing.T) {
	p := compute(t, Diffracted(5), Monochrome(555), Options{}) // nothing worked out yet
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() { _ = p.Share(-1, 1, -1, 1) + p.Tail(2) + p.OTF().MTF(5, 0) })
	}
	wg.Wait()
}

// Rings of the profile add up to the encircled energy: two routes.
func TestRadialProfileHoldsTheEncircledEnergy(t *testing.T) {
	p := compute(t, Aperture{DiameterMM: 4, PathUM: defocus(1)}, Monochrome(555), Options{})
	theta, perSr := p.RadialProfile()
	near(t, "innermost ring, degrees", theta[0], 0, 1e-12)
	sum, step := 0.0, p.StepDeg*degree
	for k := range 300 {
		r := (float64(k) + .5) * step
		inner := max(0, r-step)
		sum += perSr[k] * math.Pi * (r*r - inner*inner)
	}
	// Rings of samples and circles differ by less than a sample's width.
	near(t, "light within 300 rings", sum, p.Encircled(300*p.StepDeg-p.StepDeg/2), 2e-3)
}
