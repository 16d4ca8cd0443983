package scenes

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"simview/internal/light"
	"simview/internal/scene"
)

// TestLook writes every scene as PNG into the folder named by
// SIMVIEW_LOOK_DIR, to be judged by eye; without it nothing is done.
func TestLook(t *testing.T) {
	dir := os.Getenv("SIMVIEW_LOOK_DIR")
	if dir == "" {
		t.Skip("set SIMVIEW_LOOK_DIR to a folder to see the scenes")
	}
	list, err := Builtins()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range list {
		start := time.Now()
		img := s.Draw(s.Grid(s.WidthDeg / 1400))
		t.Logf("%s: %d x %d in %v", s.ID, img.W, img.H, time.Since(start))
		save(t, filepath.Join(dir, s.ID+".png"), s, img)
		save(t, filepath.Join(dir, s.ID+"-window.png"), s, s.Draw(s.WindowGrid(s.Window.WidthDeg/800)))
	}
}

func save(t *testing.T, path string, s *scene.Scene, img *light.Image) {
	t.Helper()
	white := 0.0
	for _, v := range img.Luminance(nil) {
		white = max(white, float64(v))
	}
	if s.Night {
		white = 5
	}
	for _, l := range s.Lamps { // a dot that spreads its light over a small Gauss
		dot(img, l, white)
	}
	out := image.NewRGBA(image.Rect(0, 0, img.W, img.H))
	for i := range img.R {
		var c [3]uint8
		for k, p := range img.Planes() {
			v := math.Min(float64(p[i])/white, 1)
			c[k] = uint8(math.Pow(v, 1/2.2)*255 + 0.5)
		}
		out.SetRGBA(i%img.W, i/img.W, color.RGBA{c[0], c[1], c[2], 255})
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, out); err != nil {
		t.Fatal(err)
	}
}

func dot(img *light.Image, l light.Lamp, white float64) {
	const sigma = 1.2 / 60 // degrees: about what a good eye makes of a point
	ci, cj := img.Pixel(float64(l.At.X), float64(l.At.Y))
	n := int(6*sigma/img.StepDeg) + 2
	for dj := -n; dj <= n; dj++ {
		for di := -n; di <= n; di++ {
			i, j := int(ci+0.5)+di, int(cj+0.5)+dj
			if i < 0 || j < 0 || i >= img.W || j >= img.H {
				continue
			}
			x, y := (float64(i)-ci)*img.StepDeg, (float64(j)-cj)*img.StepDeg
			r2 := x*x + y*y
			peak := 1 / (2 * math.Pi * sigma * sigma) * (180 / math.Pi) * (180 / math.Pi)
			// and the veil of a young eye, 10/theta^2
			v := peak*math.Exp(-r2/2/sigma/sigma) + 10/(r2+0.01)
			for k, p := range img.Planes() {
				p[j*img.W+i] += float32(l.Lux[k] * v)
			}
		}
	}
}
