package scene

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"simview/internal/light"
)

// maxStored is the longer side of a photograph as kept; a larger one is
// averaged down in whole steps, in linear light.
const maxStored = 4096

// linearPhoto returns the flat picture in cd/m², on a grid whose step is 1, and
// the share of pixels with a channel at its upper end.
func linearPhoto(img image.Image, white float64) (*light.Image, float64, error) {
	b := img.Bounds()
	n := (max(b.Dx(), b.Dy()) + maxStored - 1) / maxStored
	out := light.NewImage(light.Grid{W: b.Dx() / n, H: b.Dy() / n, StepDeg: 1})
	if p, ok := img.(*image.Paletted); ok && badIndex(p) {
		return nil, 0, fmt.Errorf("the picture names a colour that its palette does not hold")
	}
	at, table := channels(img), srgbTable(white/float64(n*n))
	clipped := 0
	for y := range out.H * n {
		for x := range out.W * n {
			c := at(b.Min.X+x, b.Min.Y+y)
			if c.A != 0xffff {
				return nil, 0, fmt.Errorf("the picture has transparent parts; flatten it onto a background first")
			}
			if c.R == 0xffff || c.G == 0xffff || c.B == 0xffff {
				clipped++
			}
			i := y/n*out.W + x/n
			out.R[i] += table[c.R]
			out.G[i] += table[c.G]
			out.B[i] += table[c.B]
		}
	}
	return out, float64(clipped) / float64(out.Len()*n*n), nil
}

func badIndex(p *image.Paletted) bool {
	for _, i := range p.Pix {
		if int(i) >= len(p.Palette) {
			return true
		}
	}
	return false
}

// channels returns a way to read pixels with 16 bits a channel.
func channels(img image.Image) func(x, y int) color.RGBA64 {
	if fast, ok := img.(image.RGBA64Image); ok {
		return fast.RGBA64At
	}
	return func(x, y int) color.RGBA64 {
		r, g, b, a := img.At(x, y).RGBA()
		return color.RGBA64{R: uint16(r), G: uint16(g), B: uint16(b), A: uint16(a)}
	}
}

// srgbTable turns 16-bit sRGB into linear light times scale (IEC 61966-2-1).
func srgbTable(scale float64) []float32 {
	t := make([]float32, 1<<16)
	for i := range t {
		t[i] = float32(light.Decode(float64(i)/0xffff) * scale)
	}
	return t
}

// equidistant resamples a flat picture, seen from where it was taken, to equal
// steps of angle about its centre: the direction at angle r from the centre
// lies at tan(r) on the flat picture.
func equidistant(flat *light.Image, widthDeg float64) *light.Image {
	const rad = math.Pi / 180
	half := math.Tan(widthDeg / 2 * rad)
	heightDeg := 2 * math.Atan(half*float64(flat.H)/float64(flat.W)) / rad
	step := widthDeg / float64(flat.W)
	out := light.NewImage(light.GridAround(0, 0, flat.W, max(int(heightDeg/step+0.5), 1), step))
	unit := 2 * half / float64(flat.W)
	inBands(out.H, func(_ *painter, j0, j1 int) {
		for j := j0; j < j1; j++ {
			for i := range out.W {
				x, y := out.Centre(i, j)
				r := math.Hypot(x, y) * rad
				k := rad / unit
				if r > 1e-9 {
					k *= math.Tan(r) / r
				}
				u, v := float64(flat.W)/2+x*k-0.5, float64(flat.H)/2-y*k-0.5
				bilinear(out, j*out.W+i, flat, u, v)
			}
		}
	})
	return out
}

// bilinear sets sample k of dst to src at the pixel coordinates (u, v).
func bilinear(dst *light.Image, k int, src *light.Image, u, v float64) {
	i, j := math.Floor(u), math.Floor(v)
	fx, fy := float32(u-i), float32(v-j)
	i0, i1 := mirror(int(i), src.W), mirror(int(i)+1, src.W)
	j0, j1 := mirror(int(j), src.H)*src.W, mirror(int(j)+1, src.H)*src.W
	to := dst.Planes()
	for c, p := range src.Planes() {
		top := p[j0+i0] + fx*(p[j0+i1]-p[j0+i0])
		low := p[j1+i0] + fx*(p[j1+i1]-p[j1+i0])
		to[c][k] = top + fy*(low-top)
	}
}

// mirror folds an index into 0..n-1; the edge sample is repeated once.
func mirror(i, n int) int {
	i = ((i % (2 * n)) + 2*n) % (2 * n)
	if i >= n {
		return 2*n - 1 - i
	}
	return i
}

// tentSum is the integral of the tent (1 - |u|, or 0) from -infinity to u.
func tentSum(u float64) float64 {
	switch {
	case u <= -1:
		return 0
	case u <= 0:
		return (u + 1) * (u + 1) / 2
	case u < 1:
		return 1 - (1-u)*(1-u)/2
	}
	return 1
}

// share is a sample of the photograph and its weight in a pixel.
type share struct {
	at     int
	weight float32
}

// shares returns, for n pixels from a (in samples of the photograph, which has
// size of them) in steps of d, what each takes from which sample: the mean over
// the pixel of the line through the samples.
func shares(a, d float64, n, size int) [][]share {
	out := make([][]share, n)
	for i := range out {
		l, r := a+float64(i)*d, a+float64(i+1)*d
		for k := int(math.Floor(l - 1)); k <= int(math.Ceil(r+1)); k++ {
			if w := (tentSum(r-float64(k)) - tentSum(l-float64(k))) / d; w > 0 {
				out[i] = append(out[i], share{mirror(k, size), float32(w)})
			}
		}
	}
	return out
}

// mixRows sets columns c0 up to c1 of line to the rows that are shared, of a
// plane w wide.
func mixRows(line, plane []float32, w, c0, c1 int, rows []share) {
	clear(line[c0:c1])
	for _, h := range rows {
		for i, v := range plane[h.at*w+c0 : h.at*w+c1] {
			line[c0+i] += h.weight * v
		}
	}
}

// mixed is the sum of the samples that are shared.
func mixed(line []float32, from []share) float32 {
	sum := float32(0)
	for _, h := range from {
		sum += h.weight * line[h.at]
	}
	return sum
}

// photoRows draws rows j0 up to j1 of a photograph.
func (s *Scene) photoRows(img *light.Image, j0, j1 int) {
	src, d := s.photo, img.StepDeg/s.photo.StepDeg
	cols := shares((img.LeftDeg-src.LeftDeg)/src.StepDeg-0.5, d, img.W, src.W)
	rows := shares((src.TopDeg-img.TopDeg)/src.StepDeg-0.5+float64(j0)*d, d, j1-j0, src.H)
	line := make([]float32, src.W)
	to := img.Planes()
	for c, from := range src.Planes() {
		for j, row := range rows {
			mixRows(line, from, src.W, 0, src.W, row)
			dst := to[c][(j0+j)*img.W : (j0+j+1)*img.W]
			for i := range dst {
				dst[i] = mixed(line, cols[i])
			}
		}
	}
}
