package acuity_test

import (
	"math"
	"sync"
	"testing"

	"simview/internal/acuity"
	"simview/internal/csf"
	"simview/internal/light"
	"simview/internal/psf"
	"simview/internal/refraction"
	"simview/internal/unit"
)

// usualSAUM is c(4,0) of healthy eyes at 6 mm, µm (Thibos2002b, from memory).
const usualSAUM = 0.1

func white() []psf.Line {
	var lines []psf.Line
	for _, l := range light.White(7) {
		lines = append(lines, psf.Line{NM: l.NM, Weight: l.Weight})
	}
	return lines
}

// seen is one spread, worked out once for all tests.
type seen struct {
	pupilMM, errorD float64
	c31             float64 // µm at this pupil
}

var (
	spreads   = map[seen]*psf.PSF{}
	spreadsMu sync.Mutex
)

// spread is that of a normal eye plus a refractive error and coma, white light.
func spread(tb testing.TB, s seen) *psf.PSF {
	tb.Helper()
	spreadsMu.Lock()
	defer spreadsMu.Unlock()
	if p := spreads[s]; p != nil {
		return p
	}
	e := refraction.PowerVector{M: unit.Dioptres(s.errorD)}
	c40 := usualSAUM * math.Pow(s.pupilMM/6, 4)
	p, err := psf.Compute(psf.Aperture{DiameterMM: s.pupilMM, PathUM: func(x, y float64) float64 {
		r2 := 4 * (x*x + y*y) / (s.pupilMM * s.pupilMM)
		coma := s.c31 * math.Sqrt(8) * (3*r2 - 2) * 2 * x / s.pupilMM
		return e.PathUM(x, y) + c40*math.Sqrt(5)*(6*r2*r2-6*r2+1) + coma
	}}, white(), psf.Options{LCA: psf.Thibos, StilesCrawford: true})
	if err != nil {
		tb.Fatal(err)
	}
	spreads[s] = p
	return p
}

// chart is the light of the chart, cd/m²: within the 80 to 320 of ISO 8596.
const chart = 100

func trolands(cdm2, pupilMM float64) float64 { return cdm2 * math.Pi * pupilMM * pupilMM / 4 }

// young is black on white for the scatter of a healthy eye of 25 years.
func young() acuity.Task {
	return acuity.Task{Scattered: 1 - light.GlareForAge(25, 0.5).Keep()}
}

func observer(tb testing.TB, m csf.Model, pupilMM, cdm2 float64) *acuity.Observer {
	tb.Helper()
	o, err := acuity.New(m, trolands(cdm2, pupilMM), acuity.Of(spread(tb, seen{pupilMM: pupilMM})))
	if err != nil {
		tb.Fatal(err)
	}
	return o
}

func reads(tb testing.TB, o *acuity.Observer, eye acuity.Transfer, t acuity.Task) float64 {
	tb.Helper()
	r, err := o.LogMAR(eye, t)
	if err != nil {
		tb.Fatal(err)
	}
	return r.LogMAR
}
