package light

import (
	"image"
	"runtime"
	"sync"
)

// rows calls f for bands of rows of a height h on all processors.
func rows(h int, f func(from, to int)) {
	n := max(1, min(runtime.GOMAXPROCS(0), h))
	var wg sync.WaitGroup
	for k := range n {
		wg.Go(func() { f(h*k/n, h*(k+1)/n) })
	}
	wg.Wait()
}

// Encode returns the picture as the display shows it: tone, sRGB, and a fixed
// dither tile so that dark gradients do not band. One tile serves the three
// channels, so grey stays grey; the same picture always gives the same bytes.
func (t Tone) Encode(m *Image) *image.NRGBA {
	out := image.NewNRGBA(image.Rect(0, 0, m.W, m.H))
	table, tile := encodeTable(), ditherTile()
	rows(m.H, func(from, to int) {
		for j := from; j < to; j++ {
			t.encodeRow(out.Pix[j*out.Stride:], m, j, table, tile[j%ditherSize*ditherSize:][:ditherSize])
		}
	})
	return out
}

func (t Tone) encodeRow(pix []byte, m *Image, j int, table, dither []float32) {
	for i := range m.W {
		k := j*m.W + i
		r, g, b := t.RGB(m.R[k], m.G[k], m.B[k])
		d := dither[i%ditherSize]
		pix[4*i] = byte(encode255(table, r) + d)
		pix[4*i+1] = byte(encode255(table, g) + d)
		pix[4*i+2] = byte(encode255(table, b) + d)
		pix[4*i+3] = 255
	}
}

// EncodeLinear16 returns the picture as 16-bit linear light, 65535 = white in
// cd/m² (above zero, or it panics), rounded, not dithered. What is brighter
// than white is limited to it: the share is [Tone.ClippedShare] of a linear
// tone with the same white.
func EncodeLinear16(m *Image, whiteCdM2 float64) *image.NRGBA64 {
	if !(whiteCdM2 > 0) {
		panic("light: linear picture: white must be above zero")
	}
	out := image.NewNRGBA64(image.Rect(0, 0, m.W, m.H))
	f := 65535 / whiteCdM2
	put := func(p []byte, v float32) {
		c := uint16(min(max(float64(v)*f, 0), 65535) + 0.5)
		p[0], p[1] = byte(c>>8), byte(c)
	}
	for k := range m.R {
		p := out.Pix[8*k:][:8]
		put(p[0:], m.R[k])
		put(p[2:], m.G[k])
		put(p[4:], m.B[k])
		p[6], p[7] = 255, 255
	}
	return out
}
