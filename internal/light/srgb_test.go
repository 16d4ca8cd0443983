package light

import (
	"math"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
)

func TestDisplayValuesFollowTheStandard(t *testing.T) {
	// go-colorful is a second implementation of IEC 61966-2-1.
	for i := range 1001 {
		v := float64(i) / 1000
		want, _, _ := colorful.Color{R: v}.LinearRgb()
		near(t, "decode", Decode(v), want, 1e-12)
		near(t, "encode", Encode(v), colorful.LinearRgb(v, 0, 0).R, 1e-12)
		// The standard's rounded constants leave a gap of 4e-8 at the joint.
		near(t, "there and back", Encode(Decode(v)), v, 1e-7)
	}
	// From the standard: mid grey 0.5 is 0.214041 linear light.
	near(t, "mid grey", Decode(0.5), 0.214041, 1e-6)
}

func TestEveryCodeComesBackExactly(t *testing.T) {
	table := encodeTable()
	for code := range 256 {
		l := Decode(float64(code) / 255)
		if got := math.Round(255 * Encode(l)); got != float64(code) {
			t.Errorf("%d came back as %v", code, got)
		}
		if got := math.Round(float64(encode255(table, float32(l)))); got != float64(code) {
			t.Errorf("%d came back as %v by the table", code, got)
		}
	}
}

func TestTableEncodesLikeTheFormula(t *testing.T) {
	table := encodeTable()
	for i := range 100001 {
		l := float32(i) / 100000
		near(t, "encode", float64(encode255(table, l)), 255*Encode(float64(l)), 0.001)
	}
	if encode255(table, -1) != 0 || encode255(table, 2) != 255 || encode255(table, 1) != 255 {
		t.Error("ends of the table")
	}
	if v := encode255(table, float32(math.Inf(1))); v != 255 {
		t.Errorf("infinite light gives %v", v)
	}
}
