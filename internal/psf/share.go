package psf

import (
	"math"
	"sync"
)

// lazy holds what is worked out once, on first use, from Pix.
type lazy struct {
	sumOnce  sync.Once
	sums     []float64 // (N+1)², light above and to the left of a sample's corner
	otfOnce  sync.Once
	otf      *OTF // of Pix
	tailOnce sync.Once
	tailC    float64
}

// Share returns the share of the light, 0 to 1, inside a box as the patient
// sees it (degrees, right + and up +), each sample spread evenly over its own
// square. Only light on the support counts; a box turned inside out holds none.
func (p *PSF) Share(leftDeg, rightDeg, bottomDeg, topDeg float64) float64 {
	p.sumOnce.Do(p.addUp)
	if !(leftDeg < rightDeg && bottomDeg < topDeg) {
		return 0
	}
	mid := float64(p.N)/2 + 0.5
	x0, x1 := mid+leftDeg/p.StepDeg, mid+rightDeg/p.StepDeg
	y0, y1 := mid-topDeg/p.StepDeg, mid-bottomDeg/p.StepDeg
	return max(0, p.sumAt(x1, y1)-p.sumAt(x0, y1)-p.sumAt(x1, y0)+p.sumAt(x0, y0))
}

func (p *PSF) addUp() {
	w := p.N + 1
	p.sums = make([]float64, w*w)
	for j := range p.N {
		row := 0.0
		for i := range p.N {
			row += float64(p.Pix[j*p.N+i])
			p.sums[(j+1)*w+i+1] = p.sums[j*w+i+1] + row
		}
	}
}

// sumAt returns the light above and to the left of a corner given in samples.
func (p *PSF) sumAt(x, y float64) float64 {
	n := float64(p.N)
	x, y = min(max(x, 0), n), min(max(y, 0), n)
	i, j := min(int(x), p.N-1), min(int(y), p.N-1)
	fx, fy := x-float64(i), y-float64(j)
	at := j*(p.N+1) + i
	up := p.sums[at]*(1-fx) + p.sums[at+1]*fx
	down := p.sums[at+p.N+1]*(1-fx) + p.sums[at+p.N+2]*fx
	return up*(1-fy) + down*fy
}

// Encircled returns the share of the light within a circle about straight
// ahead, radius in degrees.
func (p *PSF) Encircled(radiusDeg float64) float64 {
	r := radiusDeg / p.StepDeg
	sum := 0.0
	for j := range p.N {
		y := float64(p.N/2 - j)
		if math.Abs(y) > r+1 {
			continue
		}
		for i := range p.N {
			x := float64(i - p.N/2)
			if c := coverage(x, y, r, 1); c > 0 {
				sum += c * float64(p.Pix[j*p.N+i])
			}
		}
	}
	return sum
}

// RadialProfile returns the mean density of the light per steradian in rings
// one step wide about straight ahead, with the rings' mean radius in degrees,
// as far as whole rings lie on the support.
func (p *PSF) RadialProfile() (thetaDeg, perSr []float64) {
	rings := p.N / 2
	thetaDeg, perSr = make([]float64, rings), make([]float64, rings)
	count := make([]float64, rings)
	for j := range p.N {
		for i := range p.N {
			r := math.Hypot(float64(i-p.N/2), float64(j-p.N/2))
			if k := int(r + 0.5); k < rings {
				count[k]++
				thetaDeg[k] += r
				perSr[k] += float64(p.Pix[j*p.N+i])
			}
		}
	}
	step := p.StepDeg * degree
	for k, c := range count {
		thetaDeg[k] *= p.StepDeg / c
		perSr[k] /= c * step * step
	}
	return thetaDeg, perSr
}
