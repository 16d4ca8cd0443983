//go:build !race

package main

import (
	"image"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"simview/internal/cause"
)

// lensInks counts the pixels of the lens's outline colour in the right half of the
// upper drawings, above and below the axis.
func lensInks(m image.Image) (above, below int) {
	const top, bottom = 180, 890 // rows of the large drawings
	mid := (top + bottom) / 2
	for y := top; y < bottom; y++ {
		for x := m.Bounds().Dx() / 2; x < m.Bounds().Dx(); x++ {
			r, g, b, _ := m.At(x, y).RGBA()
			if r>>8 == 24 && g>>8 == 92 && b>>8 == 136 {
				if y < mid {
					above++
				} else {
					below++
				}
			}
		}
	}
	return above, below
}

func TestEyeDrawsTheDemoEyeWithItsLensUpAndOut(t *testing.T) {
	out := filepath.Join(t.TempDir(), "eye.png")
	got := call(t, "eye", "--pupil-mm", "3", "-o", out)
	if got.code != 0 || got.out != "" {
		t.Fatalf("exit code %d, stdout %q, stderr %q", got.code, got.out, got.err)
	}
	above, below := lensInks(picture(t, out))
	if above < 200 || above < 3*below/2 {
		t.Errorf("%d pixels of the lens above the axis and %d below; it lies 1 mm up and out", above, below)
	}
}

// implantCase is a left eye with an implant; the mark is replaced by more about it.
const implantCase = `title: Cellist who sees the notes doubled
invented: true
complaint_eye: left
age_years: 61
eyes:
  left:
    lens: implant
    pupil_bright_mm: 3.0
    pupil_dim_mm: 4.0
    iris_pigment: brown
    refraction: {kind: manifest, sphere_d: 0, cylinder_d: -1.00, axis_deg: 20, vertex_mm: 12}
    worn_far: {none: true}
`

func TestEyeDrawsAnImplantInItsPlace(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "case.yaml"), filepath.Join(dir, "eye.png")
	write(t, in, implantCase)
	if got := call(t, "eye", in, "-o", out); got.code != 0 {
		t.Fatalf("exit code %d, stderr %q", got.code, got.err)
	}
	above, below := lensInks(picture(t, out))
	if above < 200 || above > 12*below/10 || below > 12*above/10 {
		t.Errorf("%d pixels of the lens above the axis and %d below; it lies in the middle", above, below)
	}
}

func TestEyeRefusesWhatItCannotDraw(t *testing.T) {
	out := filepath.Join(t.TempDir(), "eye.png")
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"--eye", "left"}, 1, "has no implant (lens: natural)"},
		{[]string{"--eye", "both"}, 2, `--eye: must be right or left (got "both")`},
		{[]string{"--pupil-mm", "0"}, 2, "--pupil-mm: must be 1 to 9 (got 0)"},
		{[]string{"--pupil-mm", "NaN"}, 2, "--pupil-mm: must be 1 to 9 (got NaN)"},
		{[]string{"--meridian-deg", "400"}, 2, "--meridian-deg: must be -360 to 360 (got 400)"},
		{[]string{"-o", "eye.svg"}, 2, `-o: must name a .png file (got "eye.svg")`},
		{[]string{"-o", "no-such-folder/eye.png"}, 1, "the folder no-such-folder does not exist"},
	} {
		got := call(t, append([]string{"eye", "-o", out}, c.args...)...)
		if got.code != c.code || !strings.Contains(got.err, c.want) {
			t.Errorf("eye %v: exit code %d, stderr %q; want %d, %q", c.args, got.code, got.err, c.code, c.want)
		}
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("a refused command left a picture")
	}
}

// TestTheLastRowOfTheEyePageWearsWhatIsWorn: of a toric lens 10 degrees off and no
// glasses the eye is left with the cylinder that was refracted, 1.00 D at the cornea
// by way of 0.99 at most, whatever part of it the lens made; the rows of the lens
// alone wear glasses for it.
func TestTheLastRowOfTheEyePageWearsWhatIsWorn(t *testing.T) {
	in := filepath.Join(t.TempDir(), "case.yaml")
	text := implantCase + "    implant: {rotation_deg: 10, power_d: 20, toric_cylinder_d: 3, toric_axis_deg: 90}\n"
	write(t, in, text)
	e, err := oneEye([]string{in}, "left")
	if err != nil {
		t.Fatal(err)
	}
	k := tracing{}
	m, err := k.model(e)
	if err != nil {
		t.Fatal(err)
	}
	rows := k.states(e, m)
	for i, c := range rows {
		s, err := e.State(c.set, cause.Viewing{DistanceM: farMetres, PupilMM: 3}, c.glasses())
		if err != nil {
			t.Fatal(err)
		}
		// W(r, θ) of a cylinder C is C r²/4 cos 2(θ - α) beside what is round.
		turn := func(deg float64) float64 {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			return s.PathUM(cos, sin) + s.PathUM(-cos, -sin)
		}
		got := math.Hypot(turn(0)-turn(90), turn(45)-turn(135))
		last := i == len(rows)-1
		const step = 0.2 // D: quarter dioptres of the glasses chosen for the lens alone
		if last && math.Abs(got-1) > step || !last && got > step {
			t.Errorf("%s: a cylinder of %.2f D", c.name, got)
		}
	}
	if len(rows) != 3 {
		t.Errorf("%d rows", len(rows))
	}
}

// TestRenderSaysThatAPupilIsLimitedOrCarriedOn: a wavefront measured through 3 mm,
// seen through the dim pupil of 4 mm.
func TestRenderSaysThatAPupilIsLimitedOrCarriedOn(t *testing.T) {
	dir := t.TempDir()
	in, out := filepath.Join(dir, "case.yaml"), filepath.Join(dir, "view.png")
	text := implantCase + "    wavefront: {scheme: osa, of: whole-eye, pupil_mm: 3, wavelength_nm: 555, terms_um: {7: 0.1}}\n"
	write(t, in, text)
	for want, more := range map[string][]string{
		"Pupil limited to the 3.0 mm that were measured.":    nil,
		"Extrapolated beyond the 3.0 mm that were measured.": {"--extrapolate"},
	} {
		got := call(t, append([]string{"render", in, "--scene", "lamp-ladder", "-o", out}, more...)...)
		if got.code != 0 || !strings.Contains(got.out, want) {
			t.Errorf("render %v: exit code %d, stdout %q, stderr %q; want %q", more, got.code, got.out, got.err, want)
		}
	}
}
