package render

import (
	"testing"

	"simview/internal/eye"
	"simview/internal/fieldmask"
	"simview/internal/light"
	"simview/internal/unit"
	"simview/scenes"
)

// scarred is an eye with a bit of everything, for the time a picture takes.
func scarred() eye.State {
	s := state(5.5, func(x, y float64) float64 { return comaPath(0.25, 2.75)(x, y) + cylinderPath(0, -0.75, 67)(x, y) })
	s.Glare = light.GlareForAge(68, 0.5)
	return s
}

// damagedBelow is a field of which the lower half has lost lossDB, and the
// upper nothing.
func damagedBelow(tb testing.TB, lossDB float64) *fieldmask.Surface {
	tb.Helper()
	f := fieldmask.Field{Side: unit.Right, Pattern: "free", Kind: fieldmask.TotalDeviation, Source: "made for this test"}
	for y := -21.0; y <= 21; y += 6 {
		for x := -21.0; x <= 21; x += 6 {
			p := fieldmask.Point{At: unit.SightPoint{X: unit.Degrees(x), Y: unit.Degrees(y)}}
			if y < 0 {
				p.DB = -lossDB
			}
			f.Points = append(f.Points, p)
		}
	}
	s, err := fieldmask.NewSurface(68, 0, f)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// BenchmarkPicture makes the wide picture and the window of a harbour by night
// and of a page, without and with a damaged field.
func BenchmarkPicture(b *testing.B) {
	for _, id := range []string{"harbour-night", "tide-table"} {
		s, err := scenes.Builtin(id)
		if err != nil {
			b.Fatal(err)
		}
		th, err := NewTheatre(s)
		if err != nil {
			b.Fatal(err)
		}
		v := View{Eye: scarred()}
		p, err := PSF(v.Eye)
		if err != nil {
			b.Fatal(err)
		}
		damaged := v
		damaged.Eye.Field, damaged.Eye.FieldK = damagedBelow(b, 20), 1
		for _, one := range []struct {
			name string
			View
		}{{"full field", v}, {"damaged field", damaged}} { // in one order, for the heap is as the last left it
			v := one.View
			b.Run(id+"/"+one.name, func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, _, err := th.Look(v, p); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkPSF works out the white-light spread of one eye and its transform.
func BenchmarkPSF(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		p, err := PSF(scarred())
		if err != nil {
			b.Fatal(err)
		}
		p.OTF()
	}
}

// BenchmarkTheatre draws a scene and transforms it: once a sheet.
func BenchmarkTheatre(b *testing.B) {
	s, err := scenes.Builtin("harbour-night")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewTheatre(s); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFold multiplies and folds the spectrum of a wide picture.
func BenchmarkFold(b *testing.B) {
	st, err := NewStage(paperScene(b, ""), light.GridAround(0, 0, 1800, 1320, WideStepDeg), 2, 0)
	if err != nil {
		b.Fatal(err)
	}
	p := spread(b, state(3, nil))
	weights := st.weights(p.OTF().OnGrid(st.fine.W, st.fine.H, st.fine.StepDeg))
	out := make([]complex64, st.fine.H/2*(st.fine.W/4+1))
	b.ReportAllocs()
	for b.Loop() {
		st.fold(out, st.spectra[0], weights)
	}
}
