//go:build !race

package fieldmask

import (
	"math"
	"os"
	"slices"
	"testing"

	"simview/internal/light"
	"simview/internal/unit"
)

const (
	tinyStep = 0.25  // degrees a sample: 80 x 60 samples, bands up to one cycle per degree
	tinyLamp = 50000 // cd/m² of one sample, 0.95 lux; 0.017 lux for each cd/m² about it
)

// lampAt is where the tiny street has its lamp.
var lampAt = unit.SightPoint{X: -3.125, Y: -6.125}

// tinyStreet is the street in few samples, each the mean of 25, with and without
// a lamp.
func tinyStreet() (bare, withLamp Light) {
	const n = 5
	fine := street(tinyStep / n)
	m := light.NewImage(light.GridAround(0, 0, fine.W/n, fine.H/n, tinyStep))
	for c, p := range fine.Planes() {
		for q, v := range p {
			m.Planes()[c][q/fine.W/n*m.W+q%fine.W/n] += v / (n * n)
		}
	}
	bare = lit(m)
	glow := clone(m)
	q := sampleAt(glow, lampAt)
	for _, p := range glow.Planes() {
		p[q] = tinyLamp
	}
	return bare, Light{Retina: glow, Adapt: bare.Adapt}
}

// sampleAt is the sample of a direction.
func sampleAt(m *light.Image, p unit.SightPoint) int {
	u, v := m.Pixel(float64(p.X), float64(p.Y))
	return int(math.Round(v))*m.W + int(math.Round(u))
}

// Every field of the open data set goes through the whole stage, half of them as
// left eyes, with several directions of gaze; each thirtieth unless SIMVIEW_LONG
// is set.
func TestEveryRealFieldGoesThroughTheWholeStage(t *testing.T) {
	every := 30
	if os.Getenv("SIMVIEW_LONG") != "" {
		every = 1
	}
	ages, fields := realFields(t, 1480)
	bare, glow := tinyStreet()
	for i := 0; i < len(fields); i += every {
		f := fields[i]
		if f.Side = unit.Side(i % 2); f.Side == unit.Left {
			for k := range f.Points {
				f.Points[k].At.X *= -1
			}
		}
		s, err := NewSurface(ages[i], 0, f)
		if err != nil {
			t.Fatalf("eye %d: %v", i, err)
		}
		opt := Options{Gaze: pt(float64(i%5)-2, float64(i%3)-1)}
		out, _ := See(bare, s.LossDB, opt)
		w := walk{t, i, bare.Retina, out, s, opt.Gaze}
		w.nearbyRange()
		w.nothingBlack()
		w.meanKept()
		w.healthyStays()
		w.noDetailAdded()
		w.moreLossLeavesNoMore(bare, opt)
		w.lampStays(glow, opt)
	}
}

// walk looks at what one eye made of one picture.
type walk struct {
	t       *testing.T
	eye     int
	in, out *light.Image
	s       *Surface
	gaze    unit.SightPoint
}

// lossAt is the loss at a sample, dB.
func (w walk) lossAt(q int) float64 {
	x, y := w.in.Centre(q%w.in.W, q/w.in.W)
	return w.s.LossDB(x-float64(w.gaze.X), y-float64(w.gaze.Y))
}

// Nothing leaves the range of the scene within one period of the lowest band.
func (w walk) nearbyRange() {
	w.t.Helper()
	for c, p := range w.in.Planes() {
		for q := (w.eye + 13*c) % 53; q < len(p); q += 53 {
			lo, hi := nearbyRange(w.in, p, q, 1/lowestBand)
			if v := w.out.Planes()[c][q]; !(v >= lo && v <= hi) {
				w.t.Fatalf("eye %d: pixel %d of primary %d is %v, the scene nearby has %v to %v", w.eye, q, c, v, lo, hi)
			}
		}
	}
}

// Nothing is darker than the darkest ink, and nothing brighter than the sky.
func (w walk) nothingBlack() {
	w.t.Helper()
	if lo, hi := slices.Min(w.out.G), slices.Max(w.out.G); !(lo >= slices.Min(w.in.G) && hi <= slices.Max(w.in.G)) {
		w.t.Fatalf("eye %d: %v to %v cd/m²", w.eye, lo, hi)
	}
}

// The mean of surfaces is kept to half a per cent.
func (w walk) meanKept() {
	w.t.Helper()
	if a, b := float64(mean(w.in.G)), float64(mean(w.out.G)); math.Abs(b/a-1) > 0.005 {
		w.t.Fatalf("eye %d: the mean went from %v to %v", w.eye, a, b)
	}
}

// Where no loss lies within half a period of the lowest band the picture stays,
// to 1/255 of its white.
func (w walk) healthyStays() {
	w.t.Helper()
	n := int(0.5/lowestBand/w.in.StepDeg) + 1
	harmed := make([]bool, w.in.Len())
	for q := range harmed {
		if w.lossAt(q) <= 0.01 {
			continue
		}
		for j := max(q/w.in.W-n, 0); j <= min(q/w.in.W+n, w.in.H-1); j++ {
			for i := max(q%w.in.W-n, 0); i <= min(q%w.in.W+n, w.in.W-1); i++ {
				harmed[j*w.in.W+i] = true
			}
		}
	}
	for q, h := range harmed {
		if d := math.Abs(float64(w.out.G[q] - w.in.G[q])); !h && d > 140.0/255 {
			w.t.Fatalf("eye %d: pixel %d, far from any loss, changed by %v cd/m²", w.eye, q, d)
		}
	}
}

// detail is the mean square of the luminance's difference from its neighbours.
func detail(m *light.Image) (sum float64) {
	for q := m.W + 1; q < len(m.G); q++ {
		a, b := float64(m.G[q]-m.G[q-1]), float64(m.G[q]-m.G[q-m.W])
		sum += a*a + b*b
	}
	return sum
}

// A damaged nerve adds no detail.
func (w walk) noDetailAdded() {
	w.t.Helper()
	if a, b := detail(w.in), detail(w.out); b > a*1.001 {
		w.t.Fatalf("eye %d: detail rose from %v to %v", w.eye, a, b)
	}
}

// Half as much loss leaves at least as much detail; with no loss nothing changes.
func (w walk) moreLossLeavesNoMore(in Light, opt Options) {
	w.t.Helper()
	half, _ := See(in, w.s.Scaled(0.5).LossDB, opt)
	if a, b := detail(half), detail(w.out); b > a*1.001 {
		w.t.Fatalf("eye %d: half the loss leaves detail of %v, the whole %v", w.eye, a, b)
	}
	none, _ := See(in, w.s.Scaled(0).LossDB, opt)
	if !slices.Equal(none.G, w.in.G) {
		w.t.Fatalf("eye %d: a loss of strength 0 changes the picture", w.eye)
	}
}

// A lamp brighter than the field test's brightest spot stays at least a fifth
// above its surround wherever that spot was seen, grows nowhere and does not
// brighten.
func (w walk) lampStays(in Light, opt Options) {
	w.t.Helper()
	out, _ := See(in, w.s.LossDB, opt)
	q := sampleAt(in.Retina, lampAt)
	x, y := float64(lampAt.X-w.gaze.X), float64(lampAt.Y-w.gaze.Y)
	around := max(out.G[q-4], out.G[q+4], out.G[q-4*out.W], out.G[q+4*out.W])
	if v := out.G[q]; w.s.SensitivityDB(x, y) > 1 && v < 1.2*around {
		w.t.Fatalf("eye %d: the lamp is %v on %v where %.1f dB are left", w.eye, v, around, w.s.SensitivityDB(x, y))
	}
	if n := above(out, 200); n > 1 || out.G[q] > tinyLamp*1.0001 {
		w.t.Fatalf("eye %d: %d samples above 200 cd/m², the lamp at %v", w.eye, n, out.G[q])
	}
}
