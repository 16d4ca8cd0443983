package psf

import (
	"math"
	"testing"
)

// edge is the aperture of a pupil of 4 mm before a lens of radius 2.4 mm that was
// moved by s mm to the clinician's left and as much up; beside it the eye is 8 D
// long-sighted.
func edge(s float64) Aperture {
	inside := func(x, y float64) float64 { return 2.4 - math.Hypot(x+s, y-s) }
	return Aperture{DiameterMM: 4, InsideMM: inside, BesideUM: defocus(8)}
}

const moved = 0.75

// twoDiscs is the share of a disc of radius r that lies outside one of radius R
// whose middle is d away (the lens-shaped overlap of two circles, plane geometry).
func twoDiscs(r, big, d float64) float64 {
	a, b := (d*d+r*r-big*big)/(2*d*r), (d*d+big*big-r*r)/(2*d*big)
	k := math.Sqrt((-d + r + big) * (d + r - big) * (d - r + big) * (d + r + big))
	return 1 - (r*r*math.Acos(a)+big*big*math.Acos(b)-k/2)/(math.Pi*r*r)
}

func TestTheShareBesideTheLensIsThatOfTwoDiscs(t *testing.T) {
	p := lamp(t, edge(moved))
	// A rim of 160 cells, each good to some hundredths of itself at random.
	near(t, "share", p.Beside.Share, twoDiscs(2, 2.4, moved*math.Sqrt2), 2e-4)
}

func TestALensThatCoversThePupilChangesNoByte(t *testing.T) {
	a := edge(.2) // 0.28 mm: its edge stays 0.12 mm outside the pupil
	a.PathUM = coma(.3, 2)
	p := lamp(t, a)
	q := lamp(t, Aperture{DiameterMM: 4, PathUM: a.PathUM})
	if p.Beside != nil || p.Outside != q.Outside {
		t.Fatalf("%v beside, %g and %g outside", p.Beside, p.Outside, q.Outside)
	}
	for i := range p.Pix {
		if p.Pix[i] != q.Pix[i] {
			t.Fatalf("sample %d: %g, without a lens's edge %g", i, p.Pix[i], q.Pix[i])
		}
	}
}

func TestWhereNoLightMeetsTheLensTheEyeSeesWithoutIt(t *testing.T) {
	a := Aperture{DiameterMM: 2, PathUM: defocus(1), BesideUM: defocus(5), InsideMM: func(x, y float64) float64 { return -1 }}
	p, q := lamp(t, a), lamp(t, Aperture{DiameterMM: 2, PathUM: defocus(5)})
	if p.Beside != nil || p.N != q.N {
		t.Fatalf("%v beside, %d samples for %d", p.Beside, p.N, q.N)
	}
	for i := range p.Pix {
		if p.Pix[i] != q.Pix[i] {
			t.Fatalf("sample %d: %g for %g", i, p.Pix[i], q.Pix[i])
		}
	}
}

// Two routes: rays, and diffraction of the light that the lens leaves, in seven
// colours. What the rays lack is diffraction at the edges: fringes as wide as
// sqrt(lambda M), here 7 minutes of arc beside an image 60 minutes wide.
func TestRaysAgreeWithDiffraction(t *testing.T) {
	if testing.Short() {
		t.Skip("sums over rays, one after another")
	}
	if testing.Short() {
		t.Skip("diffracts seven colours over a wide support")
	}
	a := edge(moved)
	inside := a.InsideMM
	a.BesideUM = func(x, y float64) float64 { return defocus(8)(x, y) + 3*x - 2*y }
	var lines []Line
	for k := range 7 {
		lines = append(lines, Line{460 + 30*float64(k), 1})
	}
	opt := Options{LCA: Thibos, StilesCrawford: true}
	b := compute(t, a, lines, opt).Beside
	const soft = .02 // mm, one sample of the pupil: the edge must not make steps
	open := func(x, y float64) float64 { return math.Sqrt(min(1, max(0, .5-inside(x, y)/soft))) }
	p := compute(t, Aperture{DiameterMM: 4, PathUM: a.BesideUM, Amplitude: open}, lines, opt)

	mx, my, xx, xy, yy := moments(p, 1e3)
	var bx, by, bxx, bxy, byy float64
	for _, k := range b.beams {
		x, y, w := k.x*60, k.y*60, k.weight
		bx, by, bxx, bxy, byy = bx+w*x, by+w*y, bxx+w*x*x, bxy+w*x*y, byy+w*y*y
	}
	near(t, "middle to the right, minutes", bx, mx, .3)
	near(t, "middle up, minutes", by, my, .3)
	// Diffracted light lies out to half the support and has no finite second
	// moment; 5 % is what its few hundredths of the light there amount to.
	near(t, "spread across", (bxx-bx*bx)/(xx-mx*mx), 1, .05)
	near(t, "spread up", (byy-by*by)/(yy-my*my), 1, .05)
	near(t, "slant", (bxy-bx*by)/(xy-mx*my), 1, .05)

	const step = 12 * arcmin // above the width of the fringes
	s, apart := b.On(step), 0.0
	for k, v := range s.Pix {
		x, y := float64(s.Left+k%s.W)*step, float64(s.Top-k/s.W)*step
		apart += math.Abs(float64(v) - p.Share(x-step/2, x+step/2, y-step/2, y+step/2))
	}
	// Each side of the crescent puts a fringe's tenth of its light elsewhere.
	if apart > .2 {
		t.Errorf("rays and diffraction put %.3f of the light elsewhere", apart)
	}
}

// Two routes: the sum over beams, and a transform of the light laid on samples.
func TestTheTransferFunctionBesideTheLensIsThatOfItsSamples(t *testing.T) {
	p := lamp(t, edge(moved))
	const step = arcmin / 2
	s := p.Beside.On(step)
	sum := 0.0
	for _, v := range s.Pix {
		sum += float64(v)
	}
	near(t, "light on the samples", sum, 1, 1e-5) // float32
	for _, f := range [][2]float64{{0, 0}, {.3, 0}, {0, .4}, {-.5, .7}, {1.5, 1}} {
		var re, im float64
		for k, v := range s.Pix {
			x, y := float64(s.Left+k%s.W)*step, float64(s.Top-k/s.W)*step
			sn, cs := math.Sincos(2 * math.Pi * (f[0]*x + f[1]*y))
			re, im = re+float64(v)*cs, im-float64(v)*sn
		}
		got := p.Beside.otf(f[0], f[1])
		// A sample of half a minute dims 1.8 cycles per degree by 4e-4.
		near(t, "real part", real(got), re, 1e-3)
		near(t, "imaginary part", imag(got), im, 1e-3)
	}
}

func TestContrastIsThatOfBothLightsTogether(t *testing.T) {
	p := lamp(t, edge(moved))
	u := p.Beside.Share
	near(t, "at 0", p.OTF().MTF(0, 0), 1, 1e-6)
	for _, f := range []float64{20, 40} { // beside the lens nothing is left of these
		for _, deg := range []float64{0, 45, 90} {
			near(t, "fine detail", p.OTF().MTF(f, deg)/p.ThroughOTF().MTF(f, deg), 1-u, .01)
		}
	}
	if low := p.OTF().MTF(.1, 45); !(low > 1-u && low < 1) {
		t.Errorf("a coarse grating keeps %g, of which %g passes the lens", low, 1-u)
	}
	alone := lamp(t, edge(moved))
	alone.Beside = nil
	near(t, "peak", p.Peak()/alone.Peak(), 1-u, 1e-9)
}

func TestOnAGridBothLightsCount(t *testing.T) {
	p := lamp(t, edge(moved))
	const w, h, step = 120, 90, .05
	grid := p.OTF().OnGrid(w, h, step)
	for _, at := range [][2]int{{0, 0}, {1, 0}, {3, 2}, {5, -4}, {20, 10}} {
		fx, fy := float64(at[0])/(w*step), float64(at[1])/(h*step)
		got, want := grid[(h-at[1])%h*(w/2+1)+at[0]], p.OTF().At(fx, fy) // rows run down
		near(t, "real part", float64(real(got)), real(want), 1e-4)
		near(t, "imaginary part", float64(imag(got)), imag(want), 1e-4)
	}
}

func TestAPathBesideTheLensThatIsNotFiniteIsRefused(t *testing.T) {
	a := edge(moved)
	a.BesideUM = func(x, y float64) float64 { return math.NaN() }
	if _, err := Compute(a, Monochrome(555), Options{}); err == nil {
		t.Error("taken")
	}
}
