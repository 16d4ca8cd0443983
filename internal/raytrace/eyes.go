package raytrace

import "fmt"

// corneaEdgeMM is the half width of the cornea in the schematic eyes (common
// anatomical value, 12 mm across); rays further out are refused.
const corneaEdgeMM = 6

// fourSurfaces is the prescription of an eye with two corneal and two lens
// surfaces, front to back, and four indices behind them.
type fourSurfaces struct {
	name, source           string
	nm                     float64
	radius, conic          [4]float64
	cornea, aqueous, lens  float64 // thicknesses, mm
	vitreous, retinaRadius float64 // mm
	index                  [4]float64
	chroma                 [4]func(float64) float64
}

// system lays the prescription out along the axis, with the stop at the lens.
func (e fourSurfaces) system() System {
	z := [4]float64{0, e.cornea, e.cornea + e.aqueous, e.cornea + e.aqueous + e.lens}
	s := System{
		Name: e.name, Source: e.source, WavelengthNM: e.nm,
		Media: []Medium{air()}, StopZ: z[2], StopAfter: 2,
		RetinaZ: z[3] + e.vitreous, RetinaRadiusMM: e.retinaRadius,
	}
	surfaces := [4]string{"cornea front", "cornea back", "lens front", "lens back"}
	media := [4]string{"cornea", "aqueous", "lens", "vitreous"}
	for i := range 4 {
		s.Surfaces = append(s.Surfaces, Surface{Name: surfaces[i], At: frameAt(z[i]), RadiusMM: e.radius[i], Conic: e.conic[i]})
		s.Media = append(s.Media, Medium{Name: media[i], N: e.index[i], Chroma: e.chroma[i]})
	}
	s.Surfaces[0].SemiDiameterMM = corneaEdgeMM
	return s
}

func air() Medium { return Medium{Name: "air", N: 1, Chroma: NoChroma} }

// GullstrandLeGrand returns Le Grand's full theoretical eye: spheres, relaxed,
// no dispersion tabulated. Source: Le Grand and El Hage, Physiological Optics,
// 1980 (prescription from memory).
func GullstrandLeGrand() System {
	return fourSurfaces{
		name: "Gullstrand-Le Grand eye", source: "Le Grand and El Hage, Physiological Optics, 1980", nm: 589.3,
		radius: [4]float64{7.8, 6.5, 10.2, -6.0}, cornea: .55, aqueous: 3.05, lens: 4, vitreous: 16.5966,
		index: [4]float64{1.3771, 1.3374, 1.42, 1.336},
	}.system()
}

// Navarro1985 returns the relaxed eye of Navarro, Santamaría and Bescós, J Opt
// Soc Am A 1985;2:1273 (from memory), at 589 nm, with its four-wavelength
// dispersion.
func Navarro1985() System {
	e := navarro(589)
	e.name, e.source = "Navarro eye of 1985", "Navarro, Santamaría and Bescós, J Opt Soc Am A 1985;2:1273"
	e.vitreous, e.index = 16.404, [4]float64{1.376, 1.3374, 1.42, 1.336}
	return e.system()
}

// EscuderoNavarro returns the wide-angle eye of Escudero-Sanz and Navarro, J Opt
// Soc Am A 1999;16:1881, at 543 nm, with a spherical retina and the dispersion
// of the 1985 eye.
func EscuderoNavarro() System {
	e := navarro(543)
	e.name, e.source = "Escudero-Sanz and Navarro eye", "Escudero-Sanz and Navarro, J Opt Soc Am A 1999;16:1881"
	e.vitreous, e.retinaRadius, e.index = 16.3203, -12, [4]float64{1.3777, 1.3391, 1.4222, 1.3377}
	return e.system()
}

// navarro returns what both eyes share.
func navarro(nm float64) fourSurfaces {
	e := fourSurfaces{
		nm: nm, radius: [4]float64{7.72, 6.5, 10.2, -6.0}, conic: [4]float64{-.26, 0, -3.1316, -1},
		cornea: .55, aqueous: 3.05, lens: 4,
	}
	for i, n := range navarroIndices {
		c := cauchyThrough(navarroWavelengths, n)
		e.chroma[i] = func(w float64) float64 { return c.at(w) - c.at(nm) }
	}
	return e
}

// LiouBrennan returns the gradient-index eye of Liou and Brennan, J Opt Soc Am
// A 1997;14:1684, at 555 nm, centred. Their pupil lies 0.5 mm to the nasal side
// and their line of sight 5° off the axis (from memory): set PupilCentre to
// place it. Dispersion: n(λ) = n555 + .0512 - .1455 λ + .0961 λ², λ in µm, less
// its value at 555 nm so that the tabulated indices hold there; as all media
// share it the eye shows about half of the colour error of living eyes.
func LiouBrennan() System {
	chroma := func(nm float64) float64 {
		d := func(um float64) float64 { return -.1455*um + .0961*um*um }
		return d(nm/1000) - d(.555)
	}
	s := gradientEye([2]Gradient{
		{N0: 1.368, A1: .049057, A2: -.015427, B: -.001978},
		{N0: 1.407, A1: 0, A2: -.006605, B: -.001978},
	}, [4]float64{7.77, 6.40, 12.40, -8.10}, [4]float64{-.18, -.60, -.94, .96},
		[5]float64{.50, 3.16, 1.59, 2.43, 16.27}, [3]float64{1.376, 1.336, 1.336}, chroma)
	s.Name, s.Source, s.WavelengthNM = "Liou and Brennan eye", "Liou and Brennan, J Opt Soc Am A 1997;14:1684", 555
	return s
}

// Atchison returns Atchison's refraction-dependent eye, Vision Res
// 2006;46:2236, for a spectacle refraction in dioptres (+2 to -12; myopia < 0).
// The index of the vitreous (1.336) and the wavelength (589 nm) are assumed; no
// dispersion.
func Atchison(spectacleD float64) (System, error) {
	if !(spectacleD >= -12 && spectacleD <= 2) {
		return System{}, fmt.Errorf("Atchison eye: spectacle refraction must be -12 to +2 D (got %g); the model was fitted to myopes", spectacleD)
	}
	s := gradientEye([2]Gradient{
		{N0: 1.371, A1: .0652778, A2: -.0226659, B: -.0020399},
		{N0: 1.418, A1: 0, A2: -.0100737, B: -.0020399},
	}, [4]float64{7.77 + .022*spectacleD, 6.4, 11.48, -5.9}, [4]float64{-.15, -.275, -5, -2},
		[5]float64{.55, 3.15, 1.44, 2.16, 16.28 - .299*spectacleD}, [3]float64{1.376, 1.3374, 1.336}, nil)
	s.Name, s.Source, s.WavelengthNM = "Atchison eye", "Atchison, Vision Res 2006;46:2236", 589
	s.RetinaRadiusMM = -12.72 + .004*spectacleD
	return s, nil
}

// gradientEye lays out cornea, two-part gradient lens and vitreous. The order
// of t is cornea, aqueous, front and back part of the lens, vitreous; of index
// cornea, aqueous, vitreous.
func gradientEye(g [2]Gradient, radius, conic [4]float64, t [5]float64, index [3]float64, chroma func(float64) float64) System {
	front := t[0] + t[1]
	mid, back := front+t[2], front+t[2]+t[3]
	g[0].At, g[1].At = frameAt(front), frameAt(mid)
	surface := func(name string, z float64, i int) Surface {
		return Surface{Name: name, At: frameAt(z), RadiusMM: radius[i], Conic: conic[i]}
	}
	s := System{StopZ: front, StopAfter: 2, RetinaZ: back + t[4]}
	s.Surfaces = []Surface{
		surface("cornea front", 0, 0), surface("cornea back", t[0], 1), surface("lens front", front, 2),
		{Name: "lens mid-plane", At: frameAt(mid)},
		surface("lens back", back, 3),
	}
	s.Surfaces[0].SemiDiameterMM = corneaEdgeMM
	s.Media = []Medium{
		air(),
		{Name: "cornea", N: index[0], Chroma: chroma},
		{Name: "aqueous", N: index[1], Chroma: chroma},
		{Name: "lens front part", Grad: &g[0], Chroma: chroma},
		{Name: "lens back part", Grad: &g[1], Chroma: chroma},
		{Name: "vitreous", N: index[2], Chroma: chroma},
	}
	return s
}
