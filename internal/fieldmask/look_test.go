package fieldmask

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"simview/internal/light"
	"simview/internal/unit"
)

func textured(g light.Grid) *light.Image {
	m := light.NewImage(g)
	rng := rand.New(rand.NewPCG(1, 2))
	noise := make([]float64, 4096)
	for i := range noise {
		noise[i] = rng.Float64()
	}
	for j := range g.H {
		for i := range g.W {
			x, y := g.Centre(i, j)
			q := j*g.W + i
			v := 60.0
			if y > 6 { // sky and fence
				v = 120
			}
			if y < 6 && y > 0 && math.Mod(x+90, 1) < 0.35 {
				v = 15
			}
			if y <= 0 && y > -9 { // print
				v = 100
				cx, cy := int((x+90)/0.15), int((y+90)/0.6)
				if math.Mod(y+90, 0.6) < 0.3 && noise[(cx*31+cy*977)%4096] > 0.5 {
					v = 8
				}
			}
			if y <= -9 {
				v = 30 + 20*noise[(int((x+90)/1.3)*7+int((y+90)/1.3)*131)%4096]
			}
			r, b := v, v
			if math.Hypot(x-8, y-8) < 1.5 {
				r, b = v*1.5, v*.3
			}
			m.R[q], m.G[q], m.B[q] = float32(r), float32(v), float32(b)
		}
	}
	return m
}

func arc(x, y float64) float64 {
	r := math.Hypot(x, y)
	if y >= 0 {
		return 0
	}
	return 27 * smoothStep((r-3)/3) * smoothStep((18-r)/5)
}

func savePNG(name string, m *light.Image, white float64) {
	img := image.NewRGBA(image.Rect(0, 0, m.W, m.H))
	enc := func(v float32) uint8 {
		t := float64(v) / white
		return uint8(255*math.Pow(math.Min(math.Max(t, 0), 1), 1/2.2) + .5)
	}
	for q := range m.R {
		img.Set(q%m.W, q/m.W, color.RGBA{enc(m.R[q]), enc(m.G[q]), enc(m.B[q]), 255})
	}
	f, _ := os.Create(name)
	defer f.Close()
	png.Encode(f, img)
}

func TestLook(t *testing.T) {
	if os.Getenv("LOOK") == "" {
		t.Skip()
	}
	g := light.GridAround(0, 0, 1800, 1320, 1.0/60)
	m := textured(g)
	surf := Adaptation(m)
	addLamps(m)
	savePNG("/tmp/fm_before.png", m, 140)
	t0 := time.Now()
	out, low := See(Light{m, surf}, arc, Options{Gaze: unit.SightPoint{X: 0, Y: 1}})
	t.Log("see", time.Since(t0))
	savePNG("/tmp/fm_after.png", out, 140)
	gw := light.GridAround(5, -5, 960, 720, 1.0/240)
	mw := textured(gw)
	addLamps(mw)
	t0 = time.Now()
	w := SeeWindow(Light{mw, nil}, arc, Options{Gaze: unit.SightPoint{X: 0, Y: 1}}, low)
	t.Log("window", time.Since(t0))
	savePNG("/tmp/fm_window.png", w, 140)
}

func addLamps(m *light.Image) {
	for _, p := range [][2]float64{{5, -6}, {-6, -7}, {-8, 4}} {
		for q := range m.R {
			x, y := m.Centre(q%m.W, q/m.W)
			if r := math.Hypot(x-p[0], y-p[1]); r < 0.1 {
				m.R[q], m.G[q], m.B[q] = 20000, 20000, 18000
			}
		}
	}
}
