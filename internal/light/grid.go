package light

// Grid is a raster equidistant in angle, in the patient's axes. Pixel (i, j),
// i to the right and j down, covers LeftDeg + [i, i+1] StepDeg in x and
// TopDeg - [j, j+1] StepDeg in y; its centre lies half a step inside.
type Grid struct {
	W, H    int     // samples across and down
	StepDeg float64 // degrees per sample, both ways
	LeftDeg float64 // x of the left edge of column 0
	TopDeg  float64 // y of the top edge of row 0
}

// GridAround returns a grid of w x h samples centred on (xDeg, yDeg).
func GridAround(xDeg, yDeg float64, w, h int, stepDeg float64) Grid {
	return Grid{w, h, stepDeg, xDeg - float64(w)*stepDeg/2, yDeg + float64(h)*stepDeg/2}
}

// Centre returns the direction of the centre of pixel (i, j), degrees.
func (g Grid) Centre(i, j int) (xDeg, yDeg float64) {
	return g.LeftDeg + (float64(i)+0.5)*g.StepDeg, g.TopDeg - (float64(j)+0.5)*g.StepDeg
}

// Pixel returns the (fractional) pixel coordinates of a direction; the centre
// of pixel (i, j) gives exactly (i, j).
func (g Grid) Pixel(xDeg, yDeg float64) (i, j float64) {
	return (xDeg-g.LeftDeg)/g.StepDeg - 0.5, (g.TopDeg-yDeg)/g.StepDeg - 0.5
}

// Grow returns the grid with n more samples on every side.
func (g Grid) Grow(n int) Grid {
	d := float64(n) * g.StepDeg
	return Grid{g.W + 2*n, g.H + 2*n, g.StepDeg, g.LeftDeg - d, g.TopDeg + d}
}

// Len returns the number of samples.
func (g Grid) Len() int { return g.W * g.H }

// Image is a picture in linear light: three planes, row-major [y][x], row 0 at
// the top, in cd/m² of linear sRGB scaled so that a grey surface of luminance L
// has R = G = B = L; luminance is 0.2126 R + 0.7152 G + 0.0722 B.
type Image struct {
	Grid
	R, G, B []float32
}

// NewImage returns a black picture on the grid.
func NewImage(g Grid) *Image {
	n := g.Len()
	return &Image{g, make([]float32, n), make([]float32, n), make([]float32, n)}
}

// Planes returns the three planes in the order R, G, B.
func (m *Image) Planes() [3][]float32 { return [3][]float32{m.R, m.G, m.B} }

// Luminance weights of linear sRGB (IEC 61966-2-1, from the D65 primaries).
const (
	WeightR = 0.2126
	WeightG = 0.7152
	WeightB = 0.0722
)

// Luminance returns the luminance plane in cd/m²; a nil dst allocates, a dst of
// another length than W*H panics.
func (m *Image) Luminance(dst []float32) []float32 {
	if dst == nil {
		dst = make([]float32, m.Len())
	}
	if len(dst) != m.Len() {
		panic("light: luminance: dst has the wrong length")
	}
	for i := range dst {
		dst[i] = WeightR*m.R[i] + WeightG*m.G[i] + WeightB*m.B[i]
	}
	return dst
}
