package scenes

import (
	"math"
	"testing"

	"simview/internal/light"
	"simview/internal/scene"
)

// over returns the mean luminance of a part of a scene, degrees.
func over(s *scene.Scene, x, y, w, h float64) float64 {
	const step = 0.02
	img := s.Draw(light.GridAround(x, y, max(int(w/step), 1), max(int(h/step), 1), step))
	sum := 0.0
	for _, v := range img.Luminance(nil) {
		sum += float64(v)
	}
	return sum / float64(img.Len())
}

func TestTheFaceIsDimBeforeABrightWindow(t *testing.T) {
	s := get(t, "face-window")
	if face := over(s, -0.6, 0.5, 2, 2); face < 40 || face > 80 {
		t.Errorf("cheek %g cd/m², want 40 to 80", face)
	}
	if sky := over(s, -11, 4, 2, 2); sky < 3000 || sky > 5000 {
		t.Errorf("sky %g cd/m², want 3000 to 5000", sky)
	}
}

func TestTheEdgesOfTheStairsHardlyDiffer(t *testing.T) {
	s := get(t, "stairs")
	if l := over(s, 0, -4, 6, 4); l < 5 || l > 60 {
		t.Errorf("treads of %g cd/m²: want a dim stairwell", l)
	}
	// Down the middle of the flight, in steps of a tenth of a degree: no two
	// neighbours differ by more than a factor of 1.5, over all the edges.
	last := 0.0
	for y := 3.0; y > -10; y -= 0.1 {
		l := over(s, 0, y, 1, 0.1)
		if last > 0 && max(l/last, last/l) > 1.5 {
			t.Errorf("at %.1f degrees: %.3g beside %.3g cd/m²", y, l, last)
		}
		last = l
	}
}

func TestTheCupIsWhiteOnWhite(t *testing.T) {
	s := get(t, "kitchen-table")
	cup, cloth := over(s, 8.2, -3.2, 0.6, 0.6), over(s, 5.5, 1, 1, 1)
	if c := math.Abs(cup-cloth) / (cup + cloth); c > 0.35 || cloth < 50 {
		t.Errorf("cup %g and cloth %g cd/m²", cup, cloth)
	}
}

func TestTheBeamsOfTheCarFollowFromItsDistance(t *testing.T) {
	near, far := get(t, "road-50"), get(t, "road-100")
	// At most 350 cd each at B50L (UN R112), E = I / d^2.
	for i := range 2 {
		l := near.Lamps[i]
		d2 := 50*50 + 0.54*0.54 + math.Pow([]float64{3.75, 2.55}[i], 2)
		if math.Abs(l.Illuminance()*d2/350-1) > 1e-5 {
			t.Errorf("%s gives %g lux", l.Name, l.Illuminance())
		}
		if r := near.Lamps[i].Illuminance() / far.Lamps[i].Illuminance(); r < 2.5 || r > 4.5 {
			t.Errorf("at half the distance %g times the light", r)
		}
	}
	for _, s := range []*scene.Scene{near, far} {
		if l := over(s, 2, -7, 8, 4); l < 0.05 || l > 2 || !s.Night {
			t.Errorf("%s: road %g cd/m²", s.ID, l)
		}
	}
}

func TestRenderedTilesAgreeWhereOneLiesOverAnother(t *testing.T) {
	// The fine tile of a window and the frame around it are two renderings of one
	// place: the light just inside and just outside the tile's edges is the same
	// to what noise and texture leave over half a degree.
	const texture = 0.12
	for _, c := range []struct {
		id   string
		x, y float64 // on the tile's left edge, where the surface is even
	}{{"stairs", -2.5, 2}, {"kitchen-table", 3, -0.7}} {
		s := get(t, c.id)
		in, out := over(s, c.x+0.15, c.y, 0.3, 0.5), over(s, c.x-0.15, c.y, 0.3, 0.5)
		if math.Abs(in/out-1) > texture {
			t.Errorf("%s: %g inside, %g outside", c.id, in, out)
		}
	}
}
