package main

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func decoded(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

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
	above, below := lensInks(decoded(t, out))
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
	if err := os.WriteFile(in, []byte(implantCase), 0o644); err != nil {
		t.Fatal(err)
	}
	if got := call(t, "eye", in, "-o", out); got.code != 0 {
		t.Fatalf("exit code %d, stderr %q", got.code, got.err)
	}
	above, below := lensInks(decoded(t, out))
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
