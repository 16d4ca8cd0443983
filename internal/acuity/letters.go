package acuity

import (
	"math"
	"math/cmplx"
	"sync"

	"simview/internal/scene"
)

const (
	perCycle  = 3    // samples per cycle per letter: letters repeat every 3 heights
	maxCycles = 6    // cycles per letter; an octave above what reading letters uses (Solomon1994)
	curveTol  = 1e-3 // strokes
	letters   = len(scene.SloanLetters)
)

// alphabet is the spectra of the ten letters, in units of their height, on half
// of the plane of frequencies (the other half is its mirror image), the mean left
// out.
type alphabet struct {
	fx, fy []float64    // cycles per letter
	pair   []complex128 // [sample][i <= k]: conj(L_i) L_k
}

// pairs is how many pairs i <= k there are.
const pairs = letters * (letters + 1) / 2

// sloan is made once.
var sloan = sync.OnceValue(newAlphabet)

func newAlphabet() *alphabet {
	a := &alphabet{}
	var outlines [][][][2]float64
	for _, r := range scene.SloanLetters {
		o, err := scene.LetterOutline(r, curveTol)
		if err != nil {
			panic("acuity: " + err.Error()) // the ten letters are known
		}
		outlines = append(outlines, o)
	}
	const n = perCycle * maxCycles
	for l := range n + 1 {
		for k := -n; k <= n; k++ {
			if (l > 0 || k > 0) && k*k+l*l <= n*n {
				a.add(outlines, float64(k)/perCycle, float64(l)/perCycle)
			}
		}
	}
	return a
}

func (a *alphabet) add(outlines [][][][2]float64, fx, fy float64) {
	a.fx, a.fy = append(a.fx, fx), append(a.fy, fy)
	var spec [letters]complex128
	for i, o := range outlines {
		spec[i] = spectrum(o, fx, fy)
	}
	for i := range letters {
		for k := i; k < letters; k++ {
			a.pair = append(a.pair, cmplx.Conj(spec[i])*spec[k])
		}
	}
}

// spectrum is the transform of a letter that is 1 on its strokes, at a frequency
// q = 2π f other than 0, f in cycles per letter, the letter's middle at the
// origin and its height 1. Over the edges e of its polygons, whose middles are m,
//
//	L = ∫ exp(-i q·x) dA = i/|q|² Σ (q_x e_y - q_y e_x) exp(-i q·m) sinc(q·e / 2)
func spectrum(outline [][][2]float64, fx, fy float64) complex128 {
	qx, qy := 2*math.Pi*fx, 2*math.Pi*fy
	var sum complex128
	for _, shape := range outline {
		var part complex128
		twiceArea := 0.0
		for n, p := range shape {
			q := shape[(n+1)%len(shape)]
			x0, y0, x1, y1 := p[0]/5-0.5, p[1]/5-0.5, q[0]/5-0.5, q[1]/5-0.5
			ex, ey := x1-x0, y1-y0
			along := (qx*ex + qy*ey) / 2
			turn := cmplx.Rect((qx*ey-qy*ex)*sinc(along), -(qx*(x0+x1)+qy*(y0+y1))/2)
			part += turn
			twiceArea += x0*y1 - x1*y0
		}
		if twiceArea < 0 {
			part = -part
		}
		sum += part
	}
	return complex(0, 1/(qx*qx+qy*qy)) * sum
}

func sinc(x float64) float64 {
	if math.Abs(x) < 1e-9 {
		return 1
	}
	return math.Sin(x) / x
}
