//go:build !race

package studio

import (
	"math"
	"testing"

	"simview/internal/light"
)

// mean returns mean luminance and its standard error, from the scatter of pixels.
func meanOf(m *light.Image) (mean, se float64) {
	var t tally
	for _, v := range m.Luminance(nil) {
		t.add(float64(v))
	}
	n := float64(m.Len())
	return t.sum / n, math.Sqrt(t.variance(n))
}

// sigmas: a check may be off by four standard errors, which chance alone does
// once in 16,000 seeds; the seeds are fixed.
const sigmas = 4

func TestAClosedRoomThatGlowsHasItsLightOverOneMinusAlbedo(t *testing.T) {
	// L = e (1 + a + a^2 ...) = e / (1 - a), whatever the shape of the room.
	for _, a := range []float64{0, 0.5, 0.8} {
		w := NewWorld(room(&Material{Surface: Surface{Albedo: Grey(a), Glow: Grey(10)}}), nil, nil)
		f := Take(w, Camera{Eye: V3{0.3, -0.2, 0.1}, YawDeg: 20}, light.GridAround(0, 0, 40, 40, 1), 6, 1)
		got, se := meanOf(f.Picture())
		if want := 10 / (1 - a); math.Abs(got-want) > sigmas*se+1e-6*want {
			t.Errorf("albedo %g: %g +- %g cd/m2, want %g", a, got, se, want)
		}
		if se > 0.01*got {
			t.Errorf("albedo %g: the noise of %g cd/m2 hides errors", a, se)
		}
	}
}

func TestABallUnderAnEvenSkyHasAlbedoTimesItsLight(t *testing.T) {
	// A convex white body sees only sky: E = pi L, so it has a L everywhere.
	sky := func(V3) RGB { return Grey(100) }
	w := NewWorld([]Body{{Ball{V3{0, 0, 5}, 1}, &Material{Surface: Surface{Albedo: RGB{0.5, 0.25, 1}}}}}, nil, sky)
	m := Take(w, Camera{}, light.GridAround(0, 0, 20, 20, 0.5), 4, 2).Picture()
	for i := range m.R {
		for k, want := range []float64{50, 25, 100} {
			if got := float64(m.Planes()[k][i]); math.Abs(got-want) > 1e-3 {
				t.Fatalf("sample %d primary %d: %g cd/m2, want %g", i, k, got, want)
			}
		}
	}
}

// underCorner is the share of the light of a parallel rectangle a x b at a
// distance h that reaches a small plane under one of its corners, with X = a/h
// and Y = b/h (view factor of handbooks of radiative transfer, from memory):
//
//	F = (X/sqrt(1+X^2) atan(Y/sqrt(1+X^2)) + Y/sqrt(1+Y^2) atan(X/sqrt(1+Y^2))) / (2 pi)
func underCorner(a, b, h float64) float64 {
	x, y := a/h, b/h
	p, q := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return (x/p*math.Atan(y/p) + y/q*math.Atan(x/q)) / (2 * math.Pi)
}

func TestAFloorUnderAPanelHasTheLightOfTheClosedForm(t *testing.T) {
	floor := &Material{Surface: Surface{Albedo: Grey(0.5)}}
	panel := &Material{Surface: Surface{Glow: Grey(1000)}}
	w := NewWorld([]Body{
		{Quad{V3{-50, 0, -50}, V3{100, 0, 0}, V3{0, 0, 100}}, floor},
		{Quad{V3{0, 2, 0}, V3{1.5, 0, 0}, V3{0, 0, 1}}, panel},
	}, nil, nil)
	// Looked at from far below the panel's side: a patch of 2 mm at the origin.
	c := Camera{Eye: V3{-1, 1, 0}, YawDeg: 90, PitchDeg: -45}
	got, se := meanOf(Take(w, c, light.GridAround(0, 0, 40, 40, 0.002), 6, 3).Picture())
	// L = albedo E / pi and E = pi L_panel F.
	want := 0.5 * 1000 * underCorner(1.5, 1, 2)
	if math.Abs(got-want) > sigmas*se+1e-3*want { // the patch is 1/1000 of the panel
		t.Errorf("%g +- %g cd/m2, want %g", got, se, want)
	}
	if se > 0.005*want {
		t.Errorf("the noise of %g hides errors", se)
	}
}

func TestALampLightsByTheSquareOfItsDistance(t *testing.T) {
	// L = albedo / pi x cd / d^2 at right angles.
	for _, d := range []float64{1, 2, 10} {
		floor := &Material{Surface: Surface{Albedo: Grey(0.5)}}
		lamp := Lamp{V3{0, d, 0}, func(V3) RGB { return Grey(300) }}
		w := NewWorld([]Body{{Quad{V3{-5, 0, -5}, V3{10, 0, 0}, V3{0, 0, 10}}, floor}}, []Lamp{lamp}, nil)
		c := Camera{Eye: V3{-1, 1, 0}, YawDeg: 90, PitchDeg: -45}
		got, _ := meanOf(Take(w, c, light.GridAround(0, 0, 4, 4, 0.001), 2, 4).Picture())
		if want := 0.5 / math.Pi * 300 / (d * d); math.Abs(got/want-1) > 1e-6 {
			t.Errorf("%g m: %g cd/m2, want %g", d, got, want)
		}
	}
}

func TestManyLampsLightABounceAsOneOfTheirSumDoes(t *testing.T) {
	// A corner: the floor sees the wall, which sees the lamps. Four lamps at one
	// place, of 100 to 400 cd, against one of 1000 cd.
	pale := &Material{Surface: Surface{Albedo: Grey(0.7)}}
	corner := []Body{
		{Quad{V3{-2, 0, 0}, V3{4, 0, 0}, V3{0, 0, 4}}, pale},
		{Quad{V3{-2, 0, 4}, V3{4, 0, 0}, V3{0, 4, 0}}, pale},
	}
	lamp := func(cd float64) Lamp { return Lamp{V3{0, 1, 1}, func(V3) RGB { return Grey(cd) }} }
	shot := func(lamps ...Lamp) (float64, float64) {
		w := NewWorld(corner, lamps, nil)
		return meanOf(Take(w, Camera{Eye: V3{0, 2, 0}, PitchDeg: -35}, light.GridAround(0, 0, 40, 40, 0.5), 3, 6).Picture())
	}
	many, a := shot(lamp(100), lamp(200), lamp(300), lamp(400))
	one, b := shot(lamp(1000))
	if math.Abs(many-one) > 0.002*one { // same places, so only the choice of lamps differs; se %
		t.Errorf("%g and %g cd/m2 (scatter over the picture %g and %g)", many, one, a, b)
	}
}

func TestACoatNeverGivesBackMoreThanItGets(t *testing.T) {
	// The share of an even sky that is given back, by sums over a fine grid.
	const nt, np = 600, 240
	for _, rough := range []float64{0.05, 0.1, 0.3, 0.6} {
		for _, deg := range []float64{0, 30, 60, 75, 85} {
			s := Surface{Albedo: Grey(1), F0: 0.04, Rough: rough}
			sin, cos := math.Sincos(deg * math.Pi / 180)
			out, n := V3{sin, 0, cos}, V3{0, 0, 1}
			body, coat := 0.0, 0.0
			for i := range nt {
				th := (float64(i) + 0.5) / nt * math.Pi / 2
				for j := range np {
					ph := (float64(j) + 0.5) / np * math.Pi // half: it is symmetric
					in := V3{math.Sin(th) * math.Cos(ph), math.Sin(th) * math.Sin(ph), math.Cos(th)}
					b, c := s.Reflect(n, out, in)
					w := 2 * math.Sin(th) * (math.Pi / 2 / nt) * (math.Pi / np)
					body, coat = body+b*w, coat+c*w
				}
			}
			if body+coat > 1 || coat < 0 || deg == 0 && math.Abs(coat-0.04) > 0.02 {
				t.Errorf("rough %g, %g degrees: body %.3f and coat %.3f", rough, deg, body, coat)
			}
		}
	}
}

// fresnel is the share of unpolarised light that glass of an index mirrors at an
// angle (the equations of Fresnel, any textbook of optics):
//
//	F = (((c - n t) / (c + n t))^2 + ((t - n c) / (t + n c))^2) / 2
func fresnel(deg, n float64) float64 {
	sin, c := math.Sincos(deg * math.Pi / 180)
	t := math.Sqrt(1 - sin*sin/(n*n))
	across, along := (c-n*t)/(c+n*t), (t-n*c)/(t+n*c)
	return (across*across + along*along) / 2
}

func TestACoatMirrorsAsMuchAsGlassDoes(t *testing.T) {
	glass := Surface{F0: 0.04} // index 1.5
	if f := glass.Mirrored(1); math.Abs(f-fresnel(0, 1.5)) > 1e-12 {
		t.Errorf("%g at right angles", f)
	}
	const worst = 0.036 // of Schlick's form at an index of 1.5, at 85 degrees, worked out apart from this code: 0.0357
	for deg := 0.0; deg < 90; deg++ {
		if got, want := glass.Mirrored(math.Cos(deg*math.Pi/180)), fresnel(deg, 1.5); math.Abs(got-want) > worst {
			t.Errorf("%g degrees: %.4f, want %.4f", deg, got, want)
		}
	}
}

func TestCleaningKeepsLightAndEdges(t *testing.T) {
	// A lit floor half in the shadow of a wall: noise falls, the mean stays.
	dark, pale := &Material{Surface: Surface{Albedo: Grey(0.1)}}, &Material{Surface: Surface{Albedo: Grey(0.8)}}
	panel := &Material{Surface: Surface{Glow: Grey(100)}}
	w := NewWorld([]Body{
		{Quad{V3{-5, -1, 0}, V3{5, 0, 0}, V3{0, 0, 10}}, dark},
		{Quad{V3{0, -1, 0}, V3{5, 0, 0}, V3{0, 0, 10}}, pale},
		{Quad{V3{-1, 2, 2}, V3{2, 0, 0}, V3{0, 0, 2}}, panel},
	}, nil, nil)
	f := Take(w, Camera{PitchDeg: -20}, light.GridAround(0, 0, 80, 60, 0.2), 2, 5)
	before := f.Picture()
	f.Clean()
	after := f.Picture()
	b, _ := meanOf(before)
	a, _ := meanOf(after)
	if math.Abs(a/b-1) > 0.01 { // the noise of the mean is 0.3 %
		t.Errorf("mean %g before, %g after", b, a)
	}
	rough := func(m *light.Image) (sum float64) {
		for j := 20; j < 50; j++ {
			for i := 50; i < 78; i++ {
				d := float64(m.R[j*m.W+i] - m.R[j*m.W+i+1])
				sum += d * d
			}
		}
		return sum
	}
	if rough(after) > rough(before)/20 {
		t.Errorf("noise %g before, %g after", rough(before), rough(after))
	}
	j := 45 * after.W // the boundary of dark and pale runs down the middle
	if r := after.R[j+41] / after.R[j+38]; r < 7 || r > 9 {
		t.Errorf("pale over dark is %g across the edge, want 8", r)
	}
}
