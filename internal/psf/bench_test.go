package psf

import "testing"

// typical is a dim pupil in white light: seven wavelengths, coma and spherical
// aberration, directional sensitivity.
func typical() (Aperture, []Line, Options) {
	a := Aperture{DiameterMM: 5.5, PathUM: both(coma(.3, 2.75), spherical(.3, 2.75))}
	lines := []Line{{470, .1}, {500, .3}, {530, .8}, {560, 1}, {590, .8}, {620, .4}, {650, .1}}
	return a, lines, Options{LCA: Thibos, StilesCrawford: true}
}

func BenchmarkCompute(b *testing.B) {
	a, lines, opt := typical()
	for b.Loop() {
		compute(b, a, lines, opt)
	}
}

func BenchmarkOTF(b *testing.B) {
	a, lines, opt := typical()
	p := compute(b, a, lines, opt)
	for b.Loop() {
		newOTF(p)
	}
}

func BenchmarkOnGrid4000x3000(b *testing.B) {
	a, lines, opt := typical()
	o := compute(b, a, lines, opt).OTF()
	for b.Loop() {
		o.OnGrid(4000, 3000, arcmin/2)
	}
}
