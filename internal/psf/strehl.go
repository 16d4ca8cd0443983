package psf

// Strehl returns the ratio of the highest density of the light to that of the
// reference, usually the same pupil free of aberrations ([Diffracted]).
func (p *PSF) Strehl(reference *PSF) float64 { return p.Peak() / reference.Peak() }

// Peak returns the highest density of the light per steradian. Of light beside
// the lens only its absence counts: spread over degrees, it adds nothing there. Between
// samples the top is that of a parabola through the highest and its
// neighbours, across and down.
func (p *PSF) Peak() float64 {
	at := 0
	for i, v := range p.Pix {
		if v > p.Pix[at] {
			at = i
		}
	}
	n, x, y := p.N, at%p.N, at/p.N
	get := func(i, j int) float64 { return float64(p.Pix[(j+n)%n*n+(i+n)%n]) }
	top := get(x, y)
	peak := top + rise(get(x-1, y), top, get(x+1, y)) + rise(get(x, y-1), top, get(x, y+1))
	step := p.StepDeg * degree
	if p.Beside != nil {
		peak *= 1 - p.Beside.Share
	}
	return peak / (step * step)
}

// rise returns how far the top of the parabola through three neighbours, the
// middle one the highest, lies above the middle one.
func rise(before, middle, after float64) float64 {
	bend := before - 2*middle + after
	if bend == 0 {
		return 0
	}
	slope := (after - before) / 2
	return -slope * slope / (2 * bend)
}
