package light

import (
	"math"
	"sync"
)

// Encode returns the sRGB display value (0 to 1) of linear light l (0 to 1):
//
//	12.92 l                   for l <= 0.0031308
//	1.055 l^(1/2.4) - 0.055   above
//
// Source: IEC 61966-2-1. Values outside 0 to 1 follow the same branches.
func Encode(l float64) float64 {
	if l <= 0.0031308 {
		return 12.92 * l
	}
	return 1.055*math.Pow(l, 1/2.4) - 0.055
}

// Decode returns the linear light of an sRGB display value v, both 0 to 1:
//
//	v/12.92                    for v <= 0.04045
//	((v + 0.055)/1.055)^2.4    above
//
// Source: IEC 61966-2-1.
func Decode(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// encodeSteps is the number of intervals of the encoding table; linear
// interpolation is then within 0.001 of an 8-bit step.
const encodeSteps = 1 << 14

var encodeTable = sync.OnceValue(func() []float32 {
	t := make([]float32, encodeSteps+2)
	for i := range t {
		t[i] = float32(255 * Encode(float64(i)/encodeSteps))
	}
	t[encodeSteps], t[encodeSteps+1] = 255, 255
	return t
})

// encode255 returns 255 x [Encode] by table; l is limited to 0 to 1.
func encode255(t []float32, l float32) float32 {
	x := min(max(l, 0), 1) * encodeSteps
	i := int(x)
	return t[i] + (t[i+1]-t[i])*(x-float32(i))
}
