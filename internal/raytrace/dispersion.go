package raytrace

// cauchy is n = A + B/λ² + C/λ⁴ + D/λ⁶ with λ in µm.
type cauchy [4]float64

// at returns the index at a wavelength in nm.
func (c cauchy) at(nm float64) float64 {
	u := 1e6 / (nm * nm)
	return c[0] + u*(c[1]+u*(c[2]+u*c[3]))
}

// navarroWavelengths and navarroIndices are the dispersion table of Navarro,
// Santamaría and Bescós 1985 (nm; cornea, aqueous, lens, vitreous; from memory).
var (
	navarroWavelengths = [4]float64{365, 486.1, 656.3, 1014}
	navarroIndices     = [4][4]float64{
		{1.3975, 1.3807, 1.37405, 1.3668},
		{1.3593, 1.3422, 1.3354, 1.3278},
		{1.4492, 1.42625, 1.4175, 1.4097},
		{1.3565, 1.3407, 1.3341, 1.3273},
	}
)

// cauchyThrough returns the four-term formula that passes through four tabulated
// indices: Newton's divided differences in u = 1/λ², multiplied out.
func cauchyThrough(nm, n [4]float64) cauchy {
	var u [4]float64
	for i := range u {
		u[i] = 1e6 / (nm[i] * nm[i])
	}
	d := n
	for k := 1; k < 4; k++ {
		for i := 3; i >= k; i-- {
			d[i] = (d[i] - d[i-1]) / (u[i] - u[i-k])
		}
	}
	c := cauchy{d[3]}
	for i := 2; i >= 0; i-- { // c <- c (u - u_i) + d_i
		for j := 3; j > 0; j-- {
			c[j] = c[j-1] - u[i]*c[j]
		}
		c[0] = d[i] - u[i]*c[0]
	}
	return c
}

// Dispersion of the media of living eyes by Atchison and Smith, J Opt Soc Am A
// 2005;22:29 (four-term formula, from memory; constants for λ in nm there).
var (
	corneaCauchy  = cauchy{1.361594, 6009.687e-6, -6.760760e8 * 1e-12, 5.908450e13 * 1e-18}
	aqueousCauchy = cauchy{1.321631, 6070.796e-6, -7.062305e8 * 1e-12, 6.147861e13 * 1e-18}
)

// from returns the index less the index at the wavelength home (nm).
func (c cauchy) from(home float64) func(nm float64) float64 {
	return func(nm float64) float64 { return c.at(nm) - c.at(home) }
}

// abbeCauchy returns the two-term dispersion of a lens material of index n and
// Abbe number v (lines F 486.1, d 587.6, C 656.3 nm); A is left at 0, as only
// differences are used.
//
//	V = (n - 1)/(n_F - n_C),  B = (n - 1) / (V (1/λ_F² - 1/λ_C²))
func abbeCauchy(n, v float64) cauchy {
	const f, c = .4861, .6563
	return cauchy{1: (n - 1) / (v * (1/(f*f) - 1/(c*c)))}
}
