package zernike

import "sync/atomic"

// plan holds the three-term recurrences of all terms up to one order, walked by
// m and then by k = (n-m)/2. With t = 2ρ² - 1 the radial polynomial is a Jacobi
// polynomial times ρ^m, and ρ^m e^{imθ} = (x + iy)^m, so that no angle is needed:
//
//	R_n^m(ρ) = ρ^m P_k(t),  P_{k+1} = (a t + b) P_k - c P_{k-1}
//
// Source: Abramowitz and Stegun 22.7.1 with α = 0, β = m.
type plan struct {
	order int
	step  []step // walked in order
}

// step is one term pair (n, ±m) and the way to the next P.
type step struct {
	a, b, c  float64 // recurrence from P_k to P_{k+1}
	norm     float64 // N of (n, m)
	cos, sin int     // OSA indices of (n, m) and (n, -m)
}

// plans keeps the plans of the orders that can be named by a single index;
// they are built when first wanted and never changed.
var plans [101]atomic.Pointer[plan]

func planFor(order int) *plan {
	if order >= len(plans) {
		return newPlan(order)
	}
	p := plans[order].Load()
	if p == nil {
		p = newPlan(order)
		plans[order].Store(p)
	}
	return p
}

func newPlan(order int) *plan {
	p := &plan{order: order}
	for m := 0; m <= order; m++ {
		for n := m; n <= order; n += 2 {
			s := step{norm: Norm(n, m), cos: Index(n, m), sin: Index(n, -m)}
			s.a, s.b, s.c = jacobiStep((n-m)/2, m)
			p.step = append(p.step, s)
		}
	}
	return p
}

// jacobiStep returns a, b and c of P_{k+1} = (a t + b) P_k - c P_{k-1}.
func jacobiStep(k, m int) (a, b, c float64) {
	if k == 0 {
		return float64(m+2) / 2, -float64(m) / 2, 0
	}
	d := float64(2 * (k + 1) * (k + m + 1) * (2*k + m))
	q := float64(2*k + m + 1)
	a = q * float64((2*k+m+2)*(2*k+m)) / d
	b = -q * float64(m*m) / d
	c = float64(2*k*(k+m)*(2*k+m+2)) / d
	return a, b, c
}

// at returns the sum of c_j Z_j at (x, y) in units of the pupil radius; terms
// beyond the end of c count as 0.
func (p *plan) at(c []float64, x, y float64) float64 {
	t := 2*(x*x+y*y) - 1
	re, im, sum, i := 1.0, 0.0, 0.0, 0
	for m := 0; m <= p.order; m++ {
		last, now, even, odd := 0.0, 1.0, 0.0, 0.0
		for n := m; n <= p.order; n += 2 {
			s := &p.step[i]
			i++
			if s.cos < len(c) {
				even += c[s.cos] * s.norm * now
			}
			if s.sin < len(c) {
				odd += c[s.sin] * s.norm * now
			}
			last, now = now, (s.a*t+s.b)*now-s.c*last
		}
		sum += re*even + im*odd
		re, im = re*x-im*y, re*y+im*x
	}
	return sum
}

// basis writes Z_0, Z_1, ... at (x, y), in units of the pupil radius, into dst,
// which must hold Count(order) values.
func (p *plan) basis(dst []float64, x, y float64) {
	t := 2*(x*x+y*y) - 1
	re, im, i := 1.0, 0.0, 0
	for m := 0; m <= p.order; m++ {
		last, now := 0.0, 1.0
		for n := m; n <= p.order; n += 2 {
			s := &p.step[i]
			i++
			dst[s.sin] = s.norm * now * im
			dst[s.cos] = s.norm * now * re
			last, now = now, (s.a*t+s.b)*now-s.c*last
		}
		re, im = re*x-im*y, re*y+im*x
	}
}

// slope returns the derivatives of at with respect to x and y.
func (p *plan) slope(c []float64, x, y float64) (dx, dy float64) {
	t := 2*(x*x+y*y) - 1
	re, im, re1, im1, i := 1.0, 0.0, 0.0, 0.0, 0 // (x+iy)^m and ^(m-1)
	for m := 0; m <= p.order; m++ {
		last, now, dlast, dnow := 0.0, 1.0, 0.0, 0.0
		even, odd, deven, dodd := 0.0, 0.0, 0.0, 0.0
		for n := m; n <= p.order; n += 2 {
			s := &p.step[i]
			i++
			if s.cos < len(c) {
				even, deven = even+c[s.cos]*s.norm*now, deven+c[s.cos]*s.norm*dnow
			}
			if s.sin < len(c) {
				odd, dodd = odd+c[s.sin]*s.norm*now, dodd+c[s.sin]*s.norm*dnow
			}
			next, dnext := (s.a*t+s.b)*now-s.c*last, s.a*now+(s.a*t+s.b)*dnow-s.c*dlast
			last, now, dlast, dnow = now, next, dnow, dnext
		}
		along := 4 * (re*deven + im*dodd) // dt/dx = 4x, dt/dy = 4y
		dx += float64(m)*(re1*even+im1*odd) + along*x
		dy += float64(m)*(re1*odd-im1*even) + along*y
		re1, im1 = re, im
		re, im = re*x-im*y, re*y+im*x
	}
	return dx, dy
}
