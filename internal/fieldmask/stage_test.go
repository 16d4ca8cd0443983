package fieldmask

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"simview/internal/csf"
	"simview/internal/light"
	"simview/internal/unit"
)

// grey returns a grey picture with luminance from f, cd/m².
func grey(g light.Grid, f func(x, y float64) float64) *light.Image {
	m := light.NewImage(g)
	for q := range m.R {
		x, y := g.Centre(q%g.W, q/g.W)
		v := float32(f(x, y))
		m.R[q], m.G[q], m.B[q] = v, v, v
	}
	return m
}

// uniform is a loss of so many dB everywhere.
func uniform(db float64) Loss { return func(_, _ float64) float64 { return db } }

// lit takes a picture without lamps.
func lit(m *light.Image) Light { return Light{Retina: m, Adapt: Adaptation(m)} }

// street is a small scene of sky, fence, print and paving, 20 x 15 degrees.
func street(step float64) *light.Image {
	rng := rand.New(rand.NewPCG(7, 7))
	var ink [64 * 64]bool
	for i := range ink {
		ink[i] = rng.Float64() < 0.4
	}
	g := light.GridAround(0, 0, int(20/step), int(15/step), step)
	m := grey(g, func(x, y float64) float64 {
		switch {
		case y > 4:
			return 110
		case y > 0 && math.Mod(x+30, 1) < 0.4:
			return 12
		case y > 0:
			return 60
		case y > -5 && math.Mod(y+30, 0.8) < 0.4 && ink[int((x+30)/0.2)%64+64*(int((y+30)/0.8)%64)]:
			return 6
		case y > -5:
			return 90
		}
		return 30 + 10*math.Sin(x*1.7)*math.Sin(y*2.1)
	})
	for q := range m.R {
		x, y := g.Centre(q%g.W, q/g.W)
		if math.Hypot(x-5, y-5) < 1.2 {
			m.R[q], m.B[q] = m.R[q]*1.4, m.B[q]*0.4
		}
	}
	return m
}

// gratingContrast is the amplitude over the mean of the fundamental of f cycles
// per degree along x, by a Hann window of half the given width about the centre;
// 2 f half must be whole and 2 or more, or the mean leaks in.
func gratingContrast(m *light.Image, f, xc, yc, half float64) float64 {
	var re, im, sum, weight float64
	for q, v := range m.G {
		x, y := m.Centre(q%m.W, q/m.W)
		dx, dy := (x-xc)/half, (y-yc)/half
		if math.Abs(dx) > 1 || math.Abs(dy) > 1 {
			continue
		}
		w := (1 + math.Cos(math.Pi*dx)) * (1 + math.Cos(math.Pi*dy))
		s, c := math.Sincos(2 * math.Pi * f * x)
		re, im = re+w*c*float64(v), im+w*s*float64(v)
		sum, weight = sum+w*float64(v), weight+w
	}
	return 2 * math.Hypot(re, im) / sum
}

// grating is a picture of 14 x 8 degrees of a grating about 50 cd/m².
func grating(f, contrast, xc, yc float64) *light.Image {
	return grey(light.GridAround(xc, yc, 280, 160, 0.05), func(x, _ float64) float64 {
		return 50 * (1 + contrast*math.Cos(2*math.Pi*f*x))
	})
}

func TestFullFieldReturnsTheSameBytes(t *testing.T) {
	m := street(0.05)
	out, low := See(lit(m), NoLoss, Options{})
	for c, p := range m.Planes() {
		if !slices.Equal(p, out.Planes()[c]) {
			t.Fatal("a full field changed the picture")
		}
	}
	if w := SeeWindow(lit(m), NoLoss, Options{}, low); !slices.Equal(w.R, m.R) {
		t.Error("a full field changed the window")
	}
	if &out.R[0] == &m.R[0] {
		t.Error("the result must not share memory with the scene")
	}
}

func TestAFaintGratingInADamagedPlaceIsGone(t *testing.T) {
	out, _ := See(lit(grating(2, 0.05, 10, 0)), uniform(20), Options{})
	if c := gratingContrast(out, 2, 10, 0, 3); c >= 0.005 {
		t.Errorf("5 %% at 10 degrees under -20 dB comes out at %.3g %%", 100*c)
	}
}

func TestAStrongGratingAtAHealthyFoveaIsUnchanged(t *testing.T) {
	loss := func(x, y float64) float64 { return 25 * smoothStep((math.Hypot(x, y)-4)/2) }
	out, _ := See(lit(grating(2, 0.6, 0, 0)), loss, Options{})
	const tol = 0.002 // bands leave a trace of what changes 4 degrees away
	if c := gratingContrast(out, 2, 0, 0, 2); math.Abs(c-0.6) > tol*0.6 {
		t.Errorf("contrast 0.6 comes out at %.4f", c)
	}
}

// The half-gain contrast with normal periphery must be the model's threshold.
// Tolerance 25 %: bands are an octave wide and thresholds are those of their
// centres.
func TestGratingAtHalfGainHasThresholdContrast(t *testing.T) {
	if testing.Short() {
		t.Skip("slow")
	}
	for _, f := range []float64{0.5, 1.4, 4} {
		for _, e := range []float64{0, 10} {
			want := csf.WatsonAhumada{}.Threshold(f, e, 50*UsualPupilMM2)
			if want > 0.8 {
				continue
			}
			lo, hi := want/4, want*4
			for range 6 {
				c := math.Sqrt(lo * hi)
				// read over a small place, since the threshold changes with e
				out, _ := See(lit(grating(f, c, e, 0)), NoLoss, Options{NormalPeriphery: true})
				if gratingContrast(out, f, e, 0, math.Ceil(3*f)/(2*f)) < c/2 {
					lo = c
				} else {
					hi = c
				}
			}
			if got := math.Sqrt(lo * hi); math.Abs(got-want) > 0.25*want {
				t.Errorf("%v c/deg at %v degrees: half gain at %.4f, threshold %.4f", f, e, got, want)
			}
		}
	}
}

// rmsContrast is the root mean square about the mean within a radius.
func rmsContrast(m *light.Image, xc, yc, r float64) float64 {
	var s, s2, n float64
	for q, v := range m.G {
		x, y := m.Centre(q%m.W, q/m.W)
		if math.Hypot(x-xc, y-yc) < r {
			s, s2, n = s+float64(v), s2+float64(v)*float64(v), n+1
		}
	}
	return math.Sqrt(math.Max(s2/n-s*s/n/n, 0)) / (s / n)
}

func TestMeanOfSurfacesIsKept(t *testing.T) {
	m := street(0.05)
	for _, db := range []float64{10, 20, 27} {
		out, _ := See(lit(m), uniform(db), Options{})
		var a, b float64
		for q := range m.G {
			a, b = a+float64(m.G[q]), b+float64(out.G[q])
		}
		if math.Abs(b/a-1) > 0.005 {
			t.Errorf("%v dB: the mean changed by %.2f %%", db, 100*(b/a-1))
		}
	}
}

// nearbyRange returns the least and greatest value of a plane within r degrees.
func nearbyRange(m *light.Image, v []float32, q int, r float64) (lo, hi float32) {
	n := int(r / m.StepDeg)
	i, j := q%m.W, q/m.W
	lo, hi = v[q], v[q]
	for y := max(j-n, 0); y <= min(j+n, m.H-1); y++ {
		row := v[y*m.W+max(i-n, 0) : y*m.W+min(i+n, m.W-1)+1]
		lo, hi = min(lo, slices.Min(row)), max(hi, slices.Max(row))
	}
	return lo, hi
}

// checkRange fails where out leaves the range of the scene within one period of
// the lowest band, at every 997th pixel.
func checkRange(t *testing.T, m, out *light.Image) {
	t.Helper()
	for c, p := range m.Planes() {
		for q := 0; q < len(p); q += 997 {
			lo, hi := nearbyRange(m, p, q, 1/lowestBand)
			if v := out.Planes()[c][q]; !(v >= lo && v <= hi) {
				t.Fatalf("pixel %d of primary %d is %v, the scene nearby has %v to %v", q, c, v, lo, hi)
			}
		}
	}
}

// In a finer picture than that of TestEveryRealFieldGoesThroughTheWholeStage.
func TestRealFieldsLeaveNothingBlack(t *testing.T) {
	n := 12
	if testing.Short() {
		n = 4
	}
	_, fields := realFields(t, n)
	m := street(0.125)
	in := lit(m)
	for i, f := range fields {
		s := mustSurface(t, f)
		out, _ := See(in, s.LossDB, Options{Gaze: pt(float64(i%5)-2, 0)})
		checkRange(t, m, out)
		if lo := slices.Min(out.G); lo < 5.99 { // the darkest ink is 6
			t.Fatalf("eye %d: %v cd/m², darker than the darkest ink", i, lo)
		}
	}
}

func TestDeepUniformLossLooksGrosslyDamaged(t *testing.T) {
	m := street(0.05)
	f := patternField(t, "24-2", unit.Right, TotalDeviation, func(x, y float64) float64 { return -20 })
	s, err := NewSurface(60, OpticsShare(0, f), f)
	if err != nil {
		t.Fatal(err)
	}
	out, _ := See(lit(m), s.LossDB, Options{Gaze: pt(0, 2)})
	for _, p := range []unit.SightPoint{pt(-6, -3), pt(6, -3), pt(-2, -3)} {
		was, now := rmsContrast(m, float64(p.X), float64(p.Y), 1.5), rmsContrast(out, float64(p.X), float64(p.Y), 1.5)
		if now > was/3 {
			t.Errorf("print at %v keeps %.0f %% of its contrast", p, 100*now/was)
		}
	}
}

func TestDoubtfulLossKeepsPrint(t *testing.T) {
	m := street(0.05)
	out, _ := See(lit(m), uniform(1.5), Options{Gaze: pt(-7, 8)})
	for _, p := range []unit.SightPoint{pt(0, -3), pt(3, -2.5)} { // 13 and 14.5 degrees from the gaze
		was, now := rmsContrast(m, float64(p.X), float64(p.Y), 1.5), rmsContrast(out, float64(p.X), float64(p.Y), 1.5)
		if now < 0.9*was {
			t.Errorf("print at %v keeps %.0f %% of its contrast, must keep 90 %%", p, 100*now/was)
		}
	}
}

func TestGainNeverRisesWithLossAndNeverJumps(t *testing.T) {
	for _, normal := range []bool{false, true} {
		for _, a := range []float32{0, 0.1, 1, 3, 10, 1e3, 1e5, 1e8} {
			last := gain(a, 1, normal)
			if !normal && last != 1 {
				t.Errorf("gain at no loss is %v", last)
			}
			for db := 0.01; db <= 90; db += 0.01 {
				g := gain(a, float32(csf.Remaining(2, db)), normal)
				if g > last+1e-6 || last-g > 0.01 || g < 0 {
					t.Fatalf("a = %v: gain goes from %v to %v at %v dB", a, last, g, db)
				}
				last = g
			}
		}
	}
}

func TestLossFreePartsStayAsTheyAre(t *testing.T) {
	m := street(0.05)
	loss := func(x, _ float64) float64 { return 25 * smoothStep((x-2)/2) }
	out, _ := See(lit(m), loss, Options{})
	for q, v := range m.G {
		if x, _ := m.Centre(q%m.W, q/m.W); x < 0 && math.Abs(float64(out.G[q]-v)) > 110.0/255 {
			t.Fatalf("pixel %d at x = %v went from %v to %v", q, x, v, out.G[q])
		}
	}
}

func TestAdaptationIsTheLocalMean(t *testing.T) {
	g := light.GridAround(0, 0, 200, 100, 0.05)
	a := Adaptation(grey(g, func(x, _ float64) float64 {
		if x > 0 {
			return 100
		}
		return 10
	}))
	for i, want := range map[int]float64{0: 10, 199: 100} {
		if got := float64(a[50*200+i]); math.Abs(got-want) > 0.01*want {
			t.Errorf("column %d: %v, want %v", i, got, want)
		}
	}
	if mid := a[50*200+100]; mid < 50 || mid > 62 {
		t.Errorf("at the border %v, want near 55", mid)
	}
	if v := Adaptation(light.NewImage(g))[0]; v <= 0 {
		t.Errorf("in the dark %v, must stay above 0", v)
	}
}
