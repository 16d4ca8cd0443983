package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"simview/internal/studio"
)

func TestTheScenesListTheLampsOfTheRoadThatWasRendered(t *testing.T) {
	for _, carZ := range []float64{50, 100} {
		s := road(carZ)
		text, err := os.ReadFile("../" + s.id + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		var rows bytes.Buffer
		s.note(&rows, s.camera)
		for _, row := range strings.Split(strings.TrimSpace(rows.String()), "\n") {
			row, _, _ = strings.Cut(row, " # at")
			if !strings.Contains(string(text), row+"\n") {
				t.Errorf("%s.yaml does not hold the lamp\n%s", s.id, row)
			}
		}
	}
}

func TestALampGivesTheEyeCandelaOverDistanceSquared(t *testing.T) {
	// 350 cd at 50 m ahead, 3 m to the left and 0.54 m down: sin and cos by hand.
	var b strings.Builder
	lampRow{"a", v(-3, eyeY-0.54, 50), 350, 0.1, ""}.write(&b, road(50).camera)
	lux := 350 / (50*50 + 3*3 + 0.54*0.54)
	theta := math.Acos(50/math.Sqrt(50*50+3*3+0.54*0.54)) * 180 / math.Pi
	x := -theta * 3 / math.Hypot(3, 0.54)
	for _, want := range []string{fmt.Sprintf("%.2g lux", lux), fmt.Sprintf("# at %.2f,", x)} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%s\nwant %q in it", b.String(), want)
		}
	}
}

func TestTheLuminairesLightAQuietStreet(t *testing.T) {
	// Luminaires alone, on a white ground, 8 to 40 m ahead: E = pi L. Quiet
	// streets have 2 to 3 lx on average (EN 13201-2 classes P6 and P5, from
	// memory).
	ground := &material{Surface: surface{Albedo: grey(1)}}
	var lamps []studio.Lamp
	for _, z := range luminaires {
		lamps = append(lamps, luminaire(v(luminaireX, luminaireY, z), luminaireDown))
	}
	w := studio.NewWorld([]body{level(0, leftKerb, -30, rightKerb, 420, ground)}, lamps, nil)
	var sum, n float64
	for z := 8.0; z < 38; z += 1 { // one spacing
		for x := leftKerb + 0.5; x < rightKerb; x += 0.8 {
			c := studio.Camera{Eye: v(x, 1, z-1), PitchDeg: -45}
			sum += math.Pi * meanOf(studio.Take(w, c, tile{w: 0.1, h: 0.1, stepArcmin: 6}.grid(1), 2, 1).Picture())
			n++
		}
	}
	if got := sum / n; got < 2 || got > 3 {
		t.Errorf("%.2f lx", got)
	}
}
