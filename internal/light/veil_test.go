package light

import (
	"math"
	"math/rand/v2"
	"testing"

	"simview/internal/unit"
)

// greyLamp returns a lamp that gives the eye lux of white light.
func greyLamp(x, y, lux float64) Lamp {
	return Lamp{At: unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}, Lux: [3]float64{lux, lux, lux}}
}

// greatCircle is the haversine formula on the azimuthal equidistant grid, a
// second route to the angle.
func greatCircle(x1, y1, x2, y2 float64) float64 {
	d := math.Pi / 180
	r1, r2 := math.Hypot(x1, y1)*d, math.Hypot(x2, y2)*d
	dphi := math.Atan2(y1, x1) - math.Atan2(y2, x2)
	h := math.Pow(math.Sin((r1-r2)/2), 2) + math.Sin(r1)*math.Sin(r2)*math.Pow(math.Sin(dphi/2), 2)
	return 2 * math.Asin(math.Sqrt(h)) / d
}

func TestAnglesAreGreatCircles(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		p := [4]float64{}
		for i := range p {
			p[i] = 60 * (2*rng.Float64() - 1)
		}
		near(t, "angle", GreatCircleDeg(p[0], p[1], p[2], p[3]), greatCircle(p[0], p[1], p[2], p[3]), 1e-6)
	}
}

// A lamp's veil is CIE General within 3 %: 1 % for the smooth start, 1 % for the
// interpolated far part, 1 % for the table. Lamps stand inside the picture, at
// its edge and well outside.
func TestLampVeilIsTheGeneralFunction(t *testing.T) {
	const age, p, lux = 68.0, 0.5, 0.1
	out := GridAround(0, 0, 240, 180, 0.1)
	for _, at := range [][2]float64{{0, 0}, {-7, 4}, {11.9, 3}, {15, -6}, {-22, 14}} {
		f, a := UnitVeils(out, nil, [3]float64{}, []Lamp{greyLamp(at[0], at[1], lux)}, p)
		g := GlareForAge(age, p)
		seen := 0
		for j := range out.H {
			for i := range out.W {
				x, y := out.Centre(i, j)
				theta := greatCircle(x, y, at[0], at[1])
				if theta < 2 {
					continue
				}
				seen++
				got := float64(f.G[j*out.W+i]) + g.Scale*float64(a.G[j*out.W+i])
				nearShare(t, "veil", got, lux*CIEGeneral(theta, age, p), 0.03)
			}
		}
		if seen < 10000 {
			t.Errorf("only %d pixels looked at", seen)
		}
	}
}

// On a fine window the near table and the far grid must join: against the
// kernel itself, pixel by pixel, 0.5 % from 2 minutes of arc on.
func TestNearAndFarPartsJoinWithoutARing(t *testing.T) {
	g := Glare{2, 0.5}
	out := GridAround(0.4, 0.1, 400, 40, 0.01)
	f, a := UnitVeils(out, nil, [3]float64{}, []Lamp{greyLamp(0, 0, 1)}, 0.5)
	for k := range f.R {
		x, y := out.Centre(k%out.W, k/out.W)
		theta := math.Hypot(x, y)
		if theta < 2.0/60 {
			continue
		}
		got := float64(f.R[k]) + g.Scale*float64(a.R[k])
		nearShare(t, "veil", got, g.Kernel(theta), 0.005)
	}
}

func TestUniformSceneKeepsItsLuminance(t *testing.T) {
	const l = 100.0
	coarse := uniform(GridAround(0, 0, 80, 60, 0.1), [3]float64{l, l, l})
	out := GridAround(0.5, 0.2, 60, 50, 0.05)
	for _, scale := range []float64{0, 1, 3, 12} {
		g := Glare{scale, 0.5}
		f, a := UnitVeils(out, coarse, [3]float64{l, l, l}, nil, 0.5)
		for _, v := range Retina(uniform(out, [3]float64{l, l, l}), f, a, g).G {
			near(t, "luminance", float64(v), l, 0.005*l)
		}
	}
}

// The same without the surround's help: a uniform patch of 24 degrees on black
// must give its centre the kernel's integral over the square, computed here in
// polar coordinates (angle to the edge 12/cos φ).
func TestPatchOnBlackGivesTheIntegralOfTheKernel(t *testing.T) {
	const half = 12.0
	coarse := uniform(GridAround(0, 0, 240, 240, 0.1), [3]float64{1, 1, 1})
	out := GridAround(0, 0, 4, 4, 0.01)
	f, a := UnitVeils(out, coarse, [3]float64{}, nil, 0.5)
	k := newKernel(0.5)
	near(t, "fixed", float64(f.G[5]), square(k.fixed, half), 0.005*square(k.fixed, half))
	near(t, "aged", float64(a.G[5]), square(k.aged, half), 0.005*square(k.aged, half))
}

func square(f func(float64) float64, half float64) float64 {
	const nPhi, nR = 200, 4000
	rad := math.Pi / 180
	var sum float64
	for p := range nPhi {
		edge := half / math.Cos((float64(p)+0.5)/nPhi*math.Pi/4)
		for r := range nR {
			u := (float64(r) + 0.5) / nR
			theta := edge * u * u
			sum += f(theta) * math.Sin(theta*rad) * 2 * u * edge * rad
		}
	}
	return 8 * sum / (nPhi * nR) * math.Pi / 4
}

// Direct summation over all pairs of cells, no transform, with 32 x 32 points
// per cell: 0.5 % at every pixel, also where the scene is dark.
func TestVeilOfSurfacesAgreesWithDirectSummation(t *testing.T) {
	const w, h, p = 13, 9, 0.7
	grid := GridAround(1, -2, w, h, 0.1)
	coarse := NewImage(grid)
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range coarse.R {
		coarse.R[i], coarse.G[i], coarse.B[i] = 50*rng.Float32(), 2*rng.Float32(), rng.Float32()
	}
	coarse.G[3*w+2] = 5000
	surround := [3]float64{10, 1, 3}
	f, a := UnitVeils(grid, coarse, surround, nil, p)
	k := newKernel(p)
	tf, ta := unitShares(p)
	src, gotF, gotA := coarse.Planes(), f.Planes(), a.Planes()
	for c := range src {
		for at := range src[c] {
			nearShare(t, "fixed", float64(gotF[c][at]), direct(src[c], w, at, surround[c], k.fixed, tf), 0.005)
			nearShare(t, "aged", float64(gotA[c][at]), direct(src[c], w, at, surround[c], k.aged, ta), 0.005)
		}
	}
}

func direct(src []float32, w, at int, surround float64, f func(float64) float64, share float64) float64 {
	const m, step = 32, 0.1
	sum := surround * share
	for b, v := range src {
		dx, dy := float64(at%w-b%w), float64(at/w-b/w)
		var cell float64
		for q := range m * m {
			u := dx + (float64(q%m)+0.5)/m - 0.5
			v := dy + (float64(q/m)+0.5)/m - 0.5
			cell += f(step * math.Hypot(u, v))
		}
		sum += (float64(v) - surround) * cell / (m * m) * math.Pow(step*math.Pi/180, 2)
	}
	return sum
}

// A small bright surface and a lamp of the same illuminance give the same veil
// far away: 100 cd/m² over one cell of 0.1 degree.
func TestSurfaceAndLampOfEqualIlluminanceGiveEqualVeil(t *testing.T) {
	grid := GridAround(0, 0, 101, 81, 0.1)
	coarse := NewImage(grid)
	at := 40*grid.W + 50
	coarse.R[at], coarse.G[at], coarse.B[at] = 100, 100, 100
	lux := 100 * math.Pow(0.1*math.Pi/180, 2)
	fs, as := UnitVeils(grid, coarse, [3]float64{}, nil, 0.5)
	fl, al := UnitVeils(grid, nil, [3]float64{}, []Lamp{greyLamp(0, 0, lux)}, 0.5)
	for k := range fs.G {
		if x, y := grid.Centre(k%grid.W, k/grid.W); math.Hypot(x, y) > 1 {
			nearShare(t, "fixed", float64(fs.G[k]), float64(fl.G[k]), 0.02)
			nearShare(t, "aged", float64(as.G[k]), float64(al.G[k]), 0.02)
		}
	}
}

// Wide view at 1 minute of arc, window at a quarter: a pixel's centre stands for
// its mean, which at the lamp itself is good to 1 %.
func TestVeilOfAWindowIsTheVeilOfTheWideViewThere(t *testing.T) {
	const step = 1.0 / 60
	wide := GridAround(0, 0, 360, 240, step)
	coarse := NewImage(GridAround(0, 0, 120, 80, 0.1))
	for i := range coarse.R {
		v := float32(1 + i%7)
		coarse.R[i], coarse.G[i], coarse.B[i] = v, v, 2*v
	}
	lamps := []Lamp{greyLamp(1, 0.5, 0.01), greyLamp(-8, 4, 0.1)}
	g := GlareForAge(68, 0.5)
	fw, aw := UnitVeils(wide, coarse, [3]float64{1, 1, 1}, lamps, 0.5)
	window := Grid{480, 360, step / 4, wide.LeftDeg + 200*step, wide.TopDeg - 60*step}
	ff, af := UnitVeils(window, coarse, [3]float64{1, 1, 1}, lamps, 0.5)
	small, err := Retina(NewImage(window), ff, af, g).Average(4)
	if err != nil {
		t.Fatal(err)
	}
	want, err := Retina(NewImage(wide), fw, aw, g).Crop(small.Grid)
	if err != nil {
		t.Fatal(err)
	}
	for k := range small.B {
		nearShare(t, "veil", float64(small.B[k]), float64(want.B[k]), 0.01)
	}
}

// All cells of a lattice to the horizon together hold the hemisphere integral,
// which a lattice that took a degree of arc for the same solid angle everywhere
// would miss by 5 %.
func TestCellsOfAWholeLatticeHoldTheShare(t *testing.T) {
	k := newKernel(0.5)
	tf, ta := unitShares(0.5)
	var fixed, aged float64
	cf, ca := newCells(k.fixed, 0.5), newCells(k.aged, 0.5)
	for y := -181; y <= 181; y++ {
		for x := -181; x <= 181; x++ {
			fixed += cf.weight(x, y)
			aged += ca.weight(x, y)
		}
	}
	nearShare(t, "fixed", fixed, tf, 0.005)
	nearShare(t, "aged", aged, ta, 0.005)
}
