//go:build !race

package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"math"
	"os"
	"strings"
	"testing"

	"simview/internal/light"
	"simview/internal/scene"
)

// kitchen is a small scene: half of it 20, half 5 cd/m², and one red lamp.
const kitchen = `title: A wall and its shadow
good_for: Trying.
distance_m: 3
width_deg: 4
height_deg: 2
adapt_cdm2: 2
surround_cdm2: 5
pupil: dim
window: {x_deg: 0.5, y_deg: 0, width_deg: 1, height_deg: 1}
lamps:
  - {name: stove, at: [1, 0.5], lux: 0.001, diameter_arcmin: 2, tint: "#ff0000"}
shapes:
  - rect: {at: [-3, -3], size: [3, 6], cdm2: 20, tint: "#00ff00"}
`

func TestASceneAloneIsToldWithItsLight(t *testing.T) {
	bench(t)
	write(t, "kitchen.yaml", kitchen)
	const want = `kitchen: A wall and its shadow
  good for: Trying.
  3 m away, 4 x 2 degrees; window 1 x 1 at (0.5, 0)
  surfaces from 5 to 20 cd/m², eye adapted to 2 cd/m², dim pupil
  lamps: 1
    stove                                0.001 lux at (1, 0.5)
`
	same(t, []string{must(t, "scene", "kitchen.yaml").out, must(t, "scene", "check", "kitchen.yaml").out}, []string{want, want})
	var f sceneFacts
	parse(t, must(t, "scene", "kitchen.yaml", "--json").out, &f)
	if f.Darkest != 5 || f.Brightest != 20 || f.Pupil != "dim" || len(f.Lamps) != 1 || f.Lamps[0].Lux != 0.001 || f.Lamps[0].Arcmin != 2 {
		t.Errorf("%+v", f)
	}
}

func TestASceneListSaysWhatScenesSays(t *testing.T) {
	if a, b := must(t, "scene", "list").out, must(t, "scenes").out; a != b || !strings.Contains(a, "surfaces 6 to 160 cd/m²") {
		t.Errorf("scene list: %q", a)
	}
}

// rgb16 returns a pixel of a picture with 16 bits a channel.
func rgb16(m image.Image, x, y int) [3]uint32 {
	r, g, b, _ := m.At(x, y).RGBA()
	return [3]uint32{r, g, b}
}

func TestASceneAloneIsDrawnInThreeWays(t *testing.T) {
	bench(t)
	write(t, "kitchen.yaml", kitchen)
	must(t, "scene", "kitchen.yaml", "-o", "a.png", "--step-arcmin", "1.2")
	seen := picture(t, "a.png")
	if seen.Bounds() != image.Rect(0, 0, 200, 100) {
		t.Fatalf("4 x 2 degrees in steps of 1.2 minutes are %v", seen.Bounds())
	}
	// the lamp stands 1 degree right and half a degree up, and is red
	if c := rgb16(seen, 149, 24); !(c[0] == 65535 && c[0] > c[1]+10000 && c[1] == c[2]) {
		t.Errorf("the lamp is %v", c)
	}
	must(t, "scene", "kitchen.yaml", "-o", "b.png", "--linear", "--step-arcmin", "1.2")
	var sheet sceneSheet
	parse(t, read(t, "b.json"), &sheet)
	// 20 cd/m² of pure green have G = 20 / 0.7152 (IEC 61966-2-1): that is white here
	if math.Abs(sheet.White-20/0.7152) > 1e-3 {
		t.Errorf("white is %g cd/m², want %g", sheet.White, 20/0.7152)
	}
	// left green alone; right grey of 5, the lamp left out
	linear, grey := picture(t, "b.png"), uint32(math.Round(5*0.7152/20*65535))
	same(t, []string{fmt.Sprint(rgb16(linear, 50, 50)), fmt.Sprint(rgb16(linear, 149, 24))}, []string{"[0 65535 0]", fmt.Sprint([3]uint32{grey, grey, grey})})
	must(t, "scene", "kitchen.yaml", "-o", "c.npy", "--window", "--step-arcmin", "3")
	checkNPY(t, []byte(read(t, "c.npy")))
	parse(t, read(t, "c.json"), &sheet)
	if sheet.Columns != 20 || sheet.Rows != 20 || math.Abs(sheet.StepDeg-0.05) > 1e-12 || sheet.LeftDeg != 0 || sheet.TopDeg != 0.5 || len(sheet.Scene.Lamps) != 1 {
		t.Errorf("%+v", sheet)
	}
	same(t, names(t, "."), []string{"Mrs Miller.png", "a.png", "b.json", "b.png", "c.json", "c.npy", "case.yaml", "kitchen.yaml"})
}

// checkNPY reads the window, all of it grey of 5, by the format's own rules
// (NumPy array format 1.0).
func checkNPY(t *testing.T, data []byte) {
	t.Helper()
	n := 10 + int(binary.LittleEndian.Uint16(data[8:]))
	if !bytes.Contains(data[:n], []byte("'shape': (20, 20, 3), ")) || n%64 != 0 || len(data) != n+4*20*20*3 {
		t.Fatalf("header %q, %d bytes", data[:n], len(data))
	}
	for k := n; k < len(data); k += 4 {
		if v := math.Float32frombits(binary.LittleEndian.Uint32(data[k:])); v != 5 {
			t.Fatalf("value %d is %g, want 5", (k-n)/4, v)
		}
	}
}

func TestWhatCannotBeDrawnIsRefusedInOneSentence(t *testing.T) {
	bench(t)
	write(t, "kitchen.yaml", kitchen)
	write(t, "typo.yaml", strings.Replace(kitchen, "cdm2: 20", "cmd2: 20", 1))
	for _, r := range []struct {
		line string
		code int
		says string
	}{
		{"scene", 2, "scene: name a scene or a file, as in `simview scene letters`; hint: `simview scene list` lists them"},
		{"scene a b", 2, "one scene at most may be named (got \"a b\")\nhint: simview scene --help"},
		{"scene beach.yaml", 1, "beach.yaml: cannot be opened; hint: check the path, or see `simview scene list` for what is built in"},
		{"scene check", 2, "scene check: name a scene file, as in `simview scene check my.yaml`\nhint: simview scene check --help"},
		{"scene check typo.yaml", 1, "typo.yaml:13: unknown key \"cmd2\"; did you mean \"cdm2\"?"},
		{"scene typo.yaml", 1, "typo.yaml:13: unknown key \"cmd2\"; did you mean \"cdm2\"?"},
		{"scene kitchen.yaml --linear", 2, "--linear: nothing is drawn; hint: name a picture with -o FILE.png"},
		{"scene kitchen.yaml -o a.jpg", 2, "-o: must end in .png or .npy (got \"a.jpg\")\nhint: simview scene --help"},
		{"scene kitchen.yaml -o a.npy --linear", 2, "--linear: goes with .png; a .npy is linear already\nhint: simview scene --help"},
		{"scene kitchen.yaml -o a.png --step-arcmin 0.01", 2, "--step-arcmin: must be 0.1 to 60 (got 0.01)\nhint: simview scene --help"},
		{"scene harbour-night -o a.png --step-arcmin 0.1", 2, "--step-arcmin: gives 18000 x 13200 samples; at most 64 million are drawn; hint: a larger step, or --window"},
		{"scene kitchen.yaml -o a.png --tone bright", 2, "--tone: must be linear, photographic, visibility or by-scene (got \"bright\")\nhint: simview scene --help"},
		{"scene kitchen.yaml -o no/a.png", 1, "no/a.png: the folder no does not exist; hint: make it first, or name another with -o"},
	} {
		got := call(t, strings.Fields(r.line)...)
		if got.code != r.code || got.out != "" || strings.TrimSpace(got.err) != "error: "+r.says {
			t.Errorf("%s: exit code %d\ngot  %q\nwant %q", r.line, got.code, got.err, r.says)
		}
	}
}

func TestGlareOfAPhotographNeedsItsWhite(t *testing.T) {
	bench(t)
	got := call(t, append([]string{"render", "--view", "scatter", "-o", "a.png"}, small...)...)
	const want = "error: --view: scatter cannot be shown on a photograph whose white is not stated; hint: --photo-white-cdm2, about 120 for paper in a room, 5000 for a bright sky\n"
	if got.code != 2 || got.err != want {
		t.Errorf("exit code %d, %q\nwant %q", got.code, got.err, want)
	}
	must(t, append([]string{"render", "--view", "scatter", "--photo-white-cdm2", "120", "-o", "a.png"}, small...)...)
}

// little is the kitchen, small enough to be quick: one degree wide.
var little = strings.NewReplacer("width_deg: 4\nheight_deg: 2", "width_deg: 1\nheight_deg: 1", "x_deg: 0.5", "x_deg: 0", "width_deg: 1, height_deg: 1}", "width_deg: 0.2, height_deg: 0.2}").Replace(kitchen)

func TestASceneOfOnesOwnIsRendered(t *testing.T) {
	bench(t)
	write(t, "kitchen.yaml", little)
	must(t, "render", "case.yaml", "--scene", "kitchen.yaml", "--view", "reference", "-o", "a.png")
	m := picture(t, "a.png")
	left, right := rgb16(m, 5, m.Bounds().Dy()/2), rgb16(m, m.Bounds().Dx()-6, m.Bounds().Dy()/2)
	if !(left[1] > left[0]+5000 && right[1] < right[0]+3000) { // some green is blurred and scattered to the right
		t.Errorf("left %v, right %v: green belongs on the left, grey on the right", left, right)
	}
	write(t, "bad.yaml", strings.Replace(little, "pupil: dim", "pupil: wide", 1))
	if got := call(t, "render", "case.yaml", "--scene", "bad.yaml"); got.code != 1 || !strings.HasPrefix(got.err, "error: bad.yaml:8: pupil: must be bright or dim") {
		t.Errorf("%+v", got)
	}
}

func TestARecordHoldsTheSceneOfOnesOwn(t *testing.T) {
	bench(t)
	if err := os.Mkdir("scenes", 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, "scenes/kitchen.yaml", little)
	must(t, "compare", "case.yaml", "--scene", "scenes/kitchen.yaml", "-o", "out")
	before := files(t, "out")
	if r := before["record.json"]; strings.Contains(r, "scenes/kitchen") || !strings.Contains(r, "A wall and its shadow") {
		t.Errorf("the record names the folder or lacks the scene: %s", r)
	}
	if err := os.RemoveAll("scenes"); err != nil {
		t.Fatal(err)
	}
	must(t, "compare", "--record", "out/record.json", "-o", "again")
	equalFiles(t, files(t, "again"), before)
	write(t, "letters.yaml", little)
	const want = "error: --scene: two scenes have the name letters; hint: give the file another name\n"
	if got := call(t, "compare", "case.yaml", "--scene", "letters,letters.yaml"); got.code != 2 || got.err != want {
		t.Errorf("%+v", got)
	}
}

// A picture of one's own stands beside the scene's file; the record keeps its bytes.
func TestARecordHoldsThePicturesOfTheSceneOfOnesOwn(t *testing.T) {
	bench(t)
	if err := os.Mkdir("scenes", 0o755); err != nil {
		t.Fatal(err)
	}
	m := light.NewImage(light.GridAround(0, 0, 16, 16, 0.1))
	for i := range m.R {
		m.R[i], m.G[i], m.B[i] = float32(1+i%16), float32(1+i%16), float32(1+i%16)
	}
	var b bytes.Buffer
	if err := scene.WritePicture(&b, m); err != nil {
		t.Fatal(err)
	}
	write(t, "scenes/wall.png", b.String())
	write(t, "scenes/kitchen.yaml", little+"  - picture: {file: wall.png, at: [-0.8, -0.8], size: [1.6, 1.6]}\n")
	must(t, "compare", "case.yaml", "--scene", "scenes/kitchen.yaml", "-o", "out")
	before := files(t, "out")
	if err := os.RemoveAll("scenes"); err != nil {
		t.Fatal(err)
	}
	must(t, "compare", "--record", "out/record.json", "-o", "again")
	equalFiles(t, files(t, "again"), before)
	write(t, "out/record.json", strings.Replace(before["record.json"], `"kitchen.yaml/wall.png"`, `"kitchen.yaml/floor.png"`, 1))
	const want = `kitchen.yaml:14: picture "wall.png": is not in the record`
	if got := call(t, "compare", "--record", "out/record.json", "-o", "third"); got.code != 1 || !strings.Contains(got.err, want) {
		t.Errorf("%+v", got)
	}
}

func TestThePartOfASceneIsExposedAsItsWhole(t *testing.T) {
	bench(t)
	write(t, "kitchen.yaml", strings.NewReplacer("pupil: dim", "pupil: bright", "adapt_cdm2: 2", "adapt_cdm2: 10").Replace(kitchen))
	must(t, "scene", "kitchen.yaml", "--window", "-o", "a.png", "--step-arcmin", "3")
	// 5 of 20 cd/m²: 255 (1.055 x 0.25^(1/2.4) - 0.055) = 137 (IEC 61966-2-1), and a
	// step of dither; alone the window would be white
	if c := rgb16(picture(t, "a.png"), 5, 15); math.Abs(float64(c[0]>>8)-137) > 1 {
		t.Errorf("grey of 5 beside 20 cd/m² is %d, want 137", c[0]>>8)
	}
}
