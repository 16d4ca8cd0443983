package unit

import (
	"fmt"
	"testing"
)

func TestFiguresAreWrittenWithoutAPowerOfTen(t *testing.T) {
	for v, want := range map[float64]string{2612: "2610", 0.00020151: "0.000202", -1.2345: "-1.23", 122.4: "122", 0: "0", 9.999: "10"} {
		if got := fmt.Sprintf("%g", Figures(v)); got != want {
			t.Errorf("%v is written %s, want %s", v, got, want)
		}
	}
}
