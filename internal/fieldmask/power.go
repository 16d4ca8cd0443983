package fieldmask

import "math"

// Tables of the logarithm and the power of two over one octave, straight between
// 256 steps: within 3e-6 of an octave and 1e-6 of the value.
const powerSteps = 256

var log2Of, exp2Of = powerTables()

func powerTables() (l, e [powerSteps + 1]float32) {
	for i := range l {
		u := float64(i) / powerSteps
		l[i], e[i] = float32(math.Log2(1+u)), float32(math.Exp2(u))
	}
	return l, e
}

// log2 returns the logarithm to the base of two of a normal number x > 0.
func log2(x float32) float32 {
	const mantissa = 23
	b := math.Float32bits(x)
	i := b >> (mantissa - 8) & (powerSteps - 1)
	t := float32(b&(1<<(mantissa-8)-1)) / (1 << (mantissa - 8))
	return float32(int(b>>mantissa)-127) + log2Of[i] + t*(log2Of[i+1]-log2Of[i])
}

// exp2 returns two to the power y, at least 2^-126 and at most 2^127.
func exp2(y float32) float32 {
	y = min(max(y, -126), 127)
	whole := float32(math.Floor(float64(y)))
	u := (y - whole) * powerSteps
	i := min(int(u), powerSteps-1)
	v := exp2Of[i] + (u-float32(i))*(exp2Of[i+1]-exp2Of[i])
	return v * math.Float32frombits(uint32(int(whole)+127)<<23)
}

// power returns x to the power p, x >= 0 and p moderate.
func power(x, p float32) float32 { return exp2(p * log2(max(x, 1e-30))) }
