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
