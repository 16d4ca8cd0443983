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
