package light

// Retina returns the retinal image in object units (cd/m²), the core that the
// eye's optics form plus the veil of its straylight:
//
//	out = Keep core + VeilFactor (fixed + Scale aged)
//
// fixed and aged are the veils from [UnitVeils]. The three pictures must have
// the same number of samples each way; otherwise it panics.
func Retina(core, fixed, aged *Image, g Glare) *Image {
	if core.W != fixed.W || core.H != fixed.H || core.W != aged.W || core.H != aged.H {
		panic("light: retina: core and veils have different sizes")
	}
	out := NewImage(core.Grid)
	keep, f := float32(g.Keep()), float32(g.VeilFactor())
	a := f * float32(g.Scale)
	c, x, y := core.Planes(), fixed.Planes(), aged.Planes()
	for p, o := range out.Planes() {
		for i := range o {
			o[i] = keep*c[p][i] + f*x[p][i] + a*y[p][i]
		}
	}
	return out
}
