//go:build !race

package render

import (
	"fmt"
	"math"
	"testing"

	"simview/internal/eye"
	"simview/internal/light"
	"simview/internal/unit"
)

// throughManner is a scene of its lamps and an even ground, seen in a manner.
func throughManner(t *testing.T, m Manner, s eye.State, more string) *light.Image {
	t.Helper()
	sc := nightScene(t, more)
	st := drawn(t, sc, light.GridAround(0, 0, 160, 160, arcmin/2), func(_, _ float64) float64 { return 0.02 })
	p, err := m.Spread(s)
	if err != nil {
		t.Fatal(err)
	}
	in, err := st.retina(View{Eye: s, Manner: m}, newLights(p), nil)
	if err != nil {
		t.Fatal(err)
	}
	return in.Retina
}

const whiteLamp = "lamps:\n  - {name: lamp, at: [0, 0], lux: 1e-2, tint: \"#ffffff\"}\n" + noShapes

// Short waves are focused in front of long ones (Thibos 1992): where white light is
// short-sighted blue is more so and its blur reaches further; where it is
// long-sighted red's does. By hand, 4 mm: 13.75' across for a dioptre, 0.9 D more of
// blue and 0.35 D less of red.
func TestTheHaloOfAShortSightedEyeIsBlueOutsideAndOfALongSightedOneRed(t *testing.T) {
	for _, c := range []struct {
		d       float64
		outside string
	}{{-1.5, "blue"}, {1.5, "red"}} {
		m := throughManner(t, Manner{Colour: Own}, state(4, defocusPath(c.d)), whiteLamp)
		var red, blue float64
		edge := math.Abs(c.d) * 4e-3 / 2 * 180 / math.Pi
		for k := range m.R {
			if r := math.Hypot(m.Centre(k%m.W, k/m.W)); r > edge+arcmin && r < 2*edge {
				red, blue = red+float64(m.R[k]), blue+float64(m.B[k])
			}
		}
		if got := map[bool]string{true: "blue", false: "red"}[blue > red]; got != c.outside || max(red/blue, blue/red) < 1.5 {
			t.Errorf("%+g D: outside the blur there is %.3g red and %.3g blue, expected %s", c.d, red, blue, c.outside)
		}
	}
}

func TestInTheUsualMannerAGreyNightStaysGrey(t *testing.T) {
	s := state(5.5, defocusPath(-0.5))
	s.Glare = light.GlareForAge(68, 0.5)
	s.Colours.PupilOff.X, s.PupilAt.X = 0.5, 0.3
	m := throughManner(t, Manner{}, s, whiteLamp)
	tone, err := light.ToneFor(m, "photographic", 0.02)
	if err != nil {
		t.Fatal(err)
	}
	shown := tone.Encode(m)
	for k := 0; k < len(shown.Pix); k += 4 {
		if p := shown.Pix[k:]; max(p[0], p[1], p[2])-min(p[0], p[1], p[2]) > 1 {
			t.Fatalf("sample %d is %v", k/4, p[:3])
		}
	}
}

// The pupil's offset times the difference of refraction (Rynders et al. 1995),
// between the centres of the primaries' light: 3.438' for 1 mm and 1 D.
func TestAPupilOffTowardsTheTempleShowsRedOnTheSideOfTheNoseInThePictureOfEitherEye(t *testing.T) {
	focus := func(c int) (d float64) {
		for _, l := range light.Primary(c, 30) {
			d += l.Weight * Manner{}.Optics().LCA(l.NM)
		}
		return d
	}
	const off = 0.6
	want := off * (focus(0) - focus(2)) * 3.43775
	for _, side := range []unit.Side{unit.Right, unit.Left} {
		nose := -1.0 // as the patient sees: left of a right eye
		if side == unit.Left {
			nose = 1
		}
		for _, how := range []Colour{Beyond, Own} {
			s := state(3, nil)
			s.Side, s.Colours.PupilOff.X = side, unit.MM(off*side.TemporalX())
			m := throughManner(t, Manner{Colour: how}, s, whiteLamp)
			got := nose * (centreX(m, 0) - centreX(m, 2)) * 60
			// 0.15: the ground's light under the lamp and the rim of the sum
			near(t, fmt.Sprintf("%v eye, %s: red beside blue, minutes towards the nose", side, Colours[how]), got, want, 0.15*want)
		}
	}
}

// centreX is the mean place along x of a primary's light within 12 minutes, less the
// ground.
func centreX(m *light.Image, c int) float64 {
	var sum, at float64
	for k, v := range m.Planes()[c] {
		x, y := m.Centre(k%m.W, k/m.W)
		if math.Hypot(x, y) < 12*arcmin {
			sum, at = sum+float64(v)-0.02, at+(float64(v)-0.02)*x
		}
	}
	return at / sum
}

func TestAPinholeOffTheMiddlePartsColoursAsAPupilThereDoes(t *testing.T) {
	for _, how := range []Colour{Beyond, Own} {
		pupil, hole := state(1.5, nil), state(1.5, nil)
		pupil.Colours.PupilOff.Y, hole.PupilAt.Y = 1, 1
		a, err := Manner{Colour: how}.Spread(pupil)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Manner{Colour: how}.Spread(hole)
		if err != nil {
			t.Fatal(err)
		}
		frame := light.GridAround(0, 0, 240, 240, arcmin/4)
		apart := func(s Spread) (y float64) {
			_, _, red, _ := moments(shine(frame, s.R, lamp(0, 0, 1, 0)), 0, 0, 25*arcmin)
			_, _, blue, _ := moments(shine(frame, s.B, lamp(0, 0, 1, 0)), 0, 0, 25*arcmin)
			return 60 * (red - blue)
		}
		// the retina's preference lies with the pupil's middle in one, off it in the other
		near(t, Colours[how]+": red above blue, minutes", apart(b), apart(a), 0.15)
		if apart(a) > -2 { // a pupil moved up shows red low: 3.438' for a dioptre and a millimetre
			t.Errorf("%s: red is %.2f minutes above blue", Colours[how], apart(a))
		}
	}
}

func TestADisplacedLensPartsThePrimariesAsItsFringeSays(t *testing.T) {
	// made up: a minute of arc to the right and half a minute down for each 50 nm above 555
	fringe := func(nm unit.NM) (unit.SightPoint, error) {
		d := (float64(nm) - 555) / 50 * arcmin
		return unit.SightPoint{X: unit.Degrees(d), Y: unit.Degrees(-d / 2)}, nil
	}
	mean := func(c int) (nm float64) {
		for _, l := range light.Primary(c, 30) {
			nm += l.Weight * l.NM
		}
		return nm
	}
	s := state(3, nil)
	s.Colours.Lens = fringe
	for _, how := range []Colour{Beyond, Own} {
		p, err := Manner{Colour: how}.Spread(s)
		if err != nil {
			t.Fatal(err)
		}
		for c, p := range p.primaries() {
			m := shine(light.GridAround(0, 0, 320, 320, arcmin/4), p, lamp(0, 0, 1, 0))
			_, x, y, _ := moments(m, 0, 0, 30*arcmin)
			want := (mean(c) - 555) / 50
			// own wavelengths are few, and a fringe half a minute wide weighs its rim: 0.08'
			near(t, fmt.Sprintf("%s, primary %d, x", Colours[how], c), 60*x, want, 0.08)
			near(t, fmt.Sprintf("%s, primary %d, y", Colours[how], c), 60*y, -want/2, 0.08)
		}
	}
	if p, _ := (Manner{}).Spread(s); !p.shared() {
		t.Error("the usual manner parts colours")
	}
}

func TestWithoutDisplacementBeyondIsTheUsualSpread(t *testing.T) {
	s := state(4, defocusPath(-0.5))
	usual, err := PSF(s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Manner{Colour: Beyond}.Spread(s)
	if err != nil {
		t.Fatal(err)
	}
	for c, q := range p.primaries() {
		for k, v := range q.Pix {
			if math.Abs(float64(v-usual.Pix[k])) > 1e-6*float64(usual.Pix[k])+1e-12 {
				t.Fatalf("primary %d: sample %d is %g, not %g", c, k, v, usual.Pix[k])
			}
		}
	}
}

func TestEverySpreadOfColoursKeepsItsLight(t *testing.T) {
	if testing.Short() {
		t.Skip("makes fourteen spreads")
	}
	s := state(4, defocusPath(-1))
	s.Colours.PupilOff.X = 0.5
	for how := range Colours {
		for lca := range LCAs {
			p, err := Manner{Colour: Colour(how), LCA: LCA(lca)}.Spread(s)
			if err != nil {
				t.Fatal(err)
			}
			for c, p := range p.primaries() {
				sum := 0.0
				for _, v := range p.Pix {
					sum += float64(v)
				}
				near(t, fmt.Sprintf("%s, %s, primary %d", Colours[how], LCAs[lca], c), sum, 1, 1e-4)
			}
		}
	}
}
