package fieldmask

import "testing"

func BenchmarkNewSurface(b *testing.B) {
	_, fields := realFields(b, 1)
	for b.Loop() {
		mustSurface(b, fields[0])
	}
}

func BenchmarkDraw(b *testing.B) {
	_, fields := realFields(b, 1)
	s := mustSurface(b, fields[0])
	for k := 0; b.Loop(); k++ {
		if _, err := s.Draw(1, k); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSee takes a wide picture of a street with its lower half damaged.
func BenchmarkSee(b *testing.B) {
	m := street(1.0 / 60)
	in := lit(m)
	loss := func(_, y float64) float64 { return 20 * smoothStep((1-y)/2) }
	b.ReportAllocs()
	for b.Loop() {
		See(in, loss, Options{})
	}
}
