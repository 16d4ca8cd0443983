package web

import (
	"fmt"
	"net/url"
	"testing"

	"simview/internal/casefile"
)

// BenchmarkPreview turns one cause of the demo case, every time to another strength:
// nothing but the scene is found again.
func BenchmarkPreview(b *testing.B) {
	c, err := casefile.Demo()
	if err != nil {
		b.Fatal(err)
	}
	h, err := served()
	if err != nil {
		b.Fatal(err)
	}
	for _, id := range []string{"lens", "cylinder", "cornea", "scatter", "field"} {
		b.Run(id, func(b *testing.B) {
			s, err := New(c, Options{Addr: h.Listener.Addr(), Token: testToken})
			if err != nil {
				b.Fatal(err)
			}
			n := 0
			ask := func() {
				n++
				q, err := url.ParseQuery(fmt.Sprintf("scene=harbour-night&eye=right&glasses=refitted&set=%s:%g", id, 0.5+0.01*float64(n%200)))
				if err != nil {
					b.Fatal(err)
				}
				a, err := s.read(q)
				if err == nil {
					_, err = s.studio.picture(b.Context(), a)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
			ask() // the scene and its exposure
			b.ResetTimer()
			for b.Loop() {
				ask()
			}
		})
	}
}
