package plot

import (
	"image"
	"math"
	"testing"

	"simview/internal/raytrace"
	"simview/internal/unit"
)

func TestTheUpperEndOfASectionIsNamedForTheEye(t *testing.T) {
	for _, c := range []struct {
		side     unit.Side
		meridian unit.Degrees
		up, down string
	}{
		{unit.Right, 90, "up", "down"},
		{unit.Left, 90, "up", "down"},
		// A right eye's temple is at the clinician's left, 180 degrees.
		{unit.Right, 180, "temple side", "nose side"},
		{unit.Left, 180, "nose side", "temple side"},
		{unit.Right, 135, "up and temple side", "down and nose side"},
		{unit.Left, 135, "up and nose side", "down and temple side"},
		{unit.Right, 45, "up and nose side", "down and temple side"},
		{unit.Left, 45, "up and temple side", "down and nose side"},
	} {
		if up, down := endWords(c.side, c.meridian); up != c.up || down != c.down {
			t.Errorf("%s eye along %v: %q and %q, want %q and %q", c.side, c.meridian, up, down, c.up, c.down)
		}
	}
}

func TestEveryMeridianEndsUpOrAtThePatientsRight(t *testing.T) {
	for given, want := range map[unit.Degrees]unit.Degrees{0: 180, 180: 180, 360: 180, -180: 180, 90: 90, 270: 90, -45: 135, 315: 135, 1: 1} {
		if got := turned(given); got != want {
			t.Errorf("meridian %v is drawn as %v, want %v", given, got, want)
		}
	}
}

// A lens shifted to the temple: in a level section seen from above, the right
// eye's moves up on paper and the left eye's down, by the same amount.
func TestTheLeftEyeIsTheRightEyesMirrorImage(t *testing.T) {
	e := implant(t)
	at := raytrace.DisplacedLens{Decentration: unit.PupilPoint{X: unit.MM(.7 * unit.Right.TemporalX()), Y: .2}, Tilt: 6, TiltToward: 160}
	right := section(t, subject(t, e, at, 180))
	left := section(t, subject(t, e, at.Mirrored(), 180))
	near(t, "right eye's lens, up on paper", right.Lens.Centre.H, .7, exactMM)
	near(t, "left eye's lens, up on paper", left.Lens.Centre.H, -.7, exactMM)
	for i, r := range right.Rays {
		l := left.Rays[len(left.Rays)-1-i]
		near(t, "where the mirrored ray lands", l.Points[len(l.Points)-1].H, -r.Points[len(r.Points)-1].H, exactMM)
	}
}

func TestInAPictureUpIsUpAndLightComesFromTheLeft(t *testing.T) {
	v := viewport{image.Rect(100, 200, 300, 400), Point{5, 1}, 10}
	mid, up, deep := v.at(Point{5, 1}), v.at(Point{5, 3}), v.at(Point{8, 1})
	if mid != (pixel{200, 300}) || up != (pixel{200, 280}) || deep != (pixel{230, 300}) {
		t.Errorf("middle %v, 2 mm up %v, 3 mm deeper %v", mid, up, deep)
	}
}

// warmth of a drawn pixel: red less blue.
func warmth(c *canvas, x, y int) int {
	p := c.img.NRGBAAt(x, y)
	return int(p.R) - int(p.B)
}

func TestAnAdvancedWavefrontIsWarmWhereTheClinicianSeesIt(t *testing.T) {
	c := newCanvas(200, 200, paper)
	const never = 100 // µm between lines: none
	mapOf(t, func(x, _ float64) float64 { return x }, 6).draw(c, c.img.Rect, 3, never)
	if r, l := warmth(c, 180, 100), warmth(c, 20, 100); r < 50 || l > -50 {
		t.Errorf("W = x: warmth at the clinician's right %d, left %d", r, l)
	}
	mapOf(t, func(_, y float64) float64 { return y }, 6).draw(c, c.img.Rect, 3, never)
	if u, d := warmth(c, 100, 20), warmth(c, 100, 180); u < 50 || d > -50 {
		t.Errorf("W = y: warmth above %d, below %d", u, d)
	}
}

func TestTheTempleIsWrittenWhereTheClinicianSeesIt(t *testing.T) {
	if right, left := rimWords(unit.Right); right != "nose" || left != "temple" {
		t.Errorf("right eye: %q at the right, %q at the left", right, left)
	}
	if right, left := rimWords(unit.Left); right != "temple" || left != "nose" {
		t.Errorf("left eye: %q at the right, %q at the left", right, left)
	}
}

// Light that enters at (x, y) is seen at (-dW/dx, +dW/dy): a path that falls by
// 3 µm per mm to the clinician's right and rises by 2 µm per mm upwards shifts the
// point 3 mrad to the patient's right and 2 mrad up.
func TestAPointIsDrawnWhereThePatientSeesIt(t *testing.T) {
	s := spreadOf(t, func(x, y float64) float64 { return -3*x + 2*y }, 4)
	const arcminPerMrad = 60 * 180 / math.Pi / 1000
	const half, size = 15.0, 300
	c := newCanvas(size, size, paper)
	s.draw(c, c.img.Rect, half)
	bestX, bestY, best := 0, 0, -1
	for y := range size {
		for x := range size {
			p := c.img.NRGBAAt(x, y)
			if v := int(p.R) + int(p.G) + int(p.B); v > best {
				bestX, bestY, best = x, y, v
			}
		}
	}
	const pixelArcmin = 2 * half / size
	const close = .25 // minutes of arc: two pixels and the width of the peak's flat top
	near(t, "to the right", (float64(bestX)+.5)*pixelArcmin-half, 3*arcminPerMrad, close)
	near(t, "up", half-(float64(bestY)+.5)*pixelArcmin, 2*arcminPerMrad, close)
}

// What lands below and to the nose on a right eye's retina is seen above and to
// the patient's right: the section and the picture of a point must tell the same
// story of a lens shifted up and out.
func TestTheTailOnTheRetinaIsSeenOnTheOtherSide(t *testing.T) {
	e, half := implant(t), math.Sqrt(.5)
	sub := subject(t, e, towardsDeg(1, -half, half), 135)
	s := section(t, sub)
	w, err := sub.Eye.Wavefront(sub.Eye.OnAxis(), sub.PupilMM)
	if err != nil {
		t.Fatal(err)
	}
	left := func(x, y float64) float64 { return w.PathUM(x, y) - s.Glasses.PathUM(x, y) }
	p := spreadOf(t, left, sub.PupilMM)
	const d = 1e-4
	mrad := [2]float64{-(left(d, 0) - left(-d, 0)) / (2 * d), (left(0, d) - left(0, -d)) / (2 * d)}
	// Where the light's middle lies from where the middle of the pupil is seen,
	// along the patient's up and right, the mirror of the retina's down and nose.
	const arcminPerMrad = 60 * 180 / math.Pi / 1000
	sum, moment := 0.0, 0.0
	for j := -60; j <= 60; j++ {
		for i := -60; i <= 60; i++ {
			x, y := float64(i)/3, float64(j)/3
			v := p.At(x, y)
			sum += v
			moment += v * ((x-mrad[0]*arcminPerMrad)*half + (y-mrad[1]*arcminPerMrad)*half)
		}
	}
	tail := s.landing().mid - s.Chief.H // along up and temple
	if seen := moment / sum; !(seen > .5 && tail < -.005) {
		t.Errorf("on the retina the bundle lies %.4f mm up and out of its chief ray, and is seen %.2f minutes up and right of it", tail, seen)
	}
}
