package scene

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"simview/internal/light"
)

// A stored picture is an 8-bit grey PNG, two and a half times as high as what it
// shows. It holds the luminance of every sample on a scale of equal ratios,
//
//	L = 1e-6 x 1.01^(v-1) cd/m², v = 0 is none at all,
//
// so that a stored value is off by at most half a step, 0.5 %: first v modulo
// 256, below it the rest of v. The last fifth holds, side by side and at half
// the samples each way, the shares of red and of blue in the sum of the three
// primaries, 0 to 255. (A PNG predicts bytes; sixteen-bit samples pack worse.)
const (
	storedRatio = 1.01
	storedLeast = 1e-6  // cd/m²
	storedMost  = 3200  // 6.7e7 cd/m²
	shareSteps  = 255.0 // of the shares of red and blue
)

// Limits on a stored picture.
const (
	maxStoredBytes = 8 << 20
	maxStoredSide  = 8192
)

// WritePicture stores a picture in linear light as a PNG: luminance to 0.5 % in
// equal ratios from 1e-6 to 6e7 cd/m², colour at half the samples. Both sides of the
// picture must be even. Values that are not finite, negative or brighter are an
// error.
func WritePicture(w io.Writer, m *light.Image) error {
	if m.W%2 != 0 || m.H%2 != 0 || m.W == 0 || m.H == 0 {
		return fmt.Errorf("picture: both sides must be even to be stored (got %d x %d)", m.W, m.H)
	}
	if err := m.Check(); err != nil {
		return fmt.Errorf("picture: %w", err)
	}
	out := image.NewGray(image.Rect(0, 0, m.W, 2*m.H+m.H/2))
	for i, l := range m.Luminance(nil) {
		v := storedValue(float64(l))
		if v > storedMost {
			return fmt.Errorf("picture: %g cd/m² is too bright to be stored; a source that bright is a lamp", l)
		}
		out.Pix[i], out.Pix[i+m.Len()] = uint8(v%256), uint8(v/256)
	}
	for j := range m.H / 2 {
		for i := range m.W / 2 {
			red, blue := coloursOf(m, 2*i, 2*j)
			row := out.Pix[(2*m.H+j)*m.W:]
			row[i], row[m.W/2+i] = red, blue
		}
	}
	e := png.Encoder{CompressionLevel: png.BestCompression}
	return e.Encode(w, out)
}

func storedValue(l float64) int {
	if l < storedLeast {
		return 0
	}
	return int(math.Round(math.Log(l/storedLeast)/math.Log(storedRatio))) + 1
}

// coloursOf returns the shares of red and blue of four samples from (i, j) on.
func coloursOf(m *light.Image, i, j int) (red, blue uint8) {
	var sum [3]float64
	for c, p := range m.Planes() {
		k := j*m.W + i
		sum[c] = float64(p[k]) + float64(p[k+1]) + float64(p[k+m.W]) + float64(p[k+m.W+1])
	}
	all := sum[0] + sum[1] + sum[2]
	if all == 0 {
		return shareSteps / 3, shareSteps / 3
	}
	return uint8(math.Round(sum[0] / all * shareSteps)), uint8(math.Round(sum[2] / all * shareSteps))
}

// readPicture returns a stored picture on a grid of step 1.
func readPicture(data []byte) (*light.Image, error) {
	w, h, err := storedSize(data)
	if err != nil {
		return nil, err
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the PNG file is broken: %w", err)
	}
	grey, ok := img.(*image.Gray)
	if !ok || grey.Stride != w {
		return nil, errNotStored
	}
	m := light.NewImage(light.Grid{W: w, H: h, StepDeg: 1})
	table := luminances()
	for j := range h {
		for i := range w {
			k := j*w + i
			v := int(grey.Pix[k]) + 256*int(grey.Pix[k+w*h])
			if v > storedMost {
				return nil, errNotStored
			}
			c := (2*h + j/2) * w
			r, b := int(grey.Pix[c+i/2]), int(grey.Pix[c+w/2+i/2])
			if r+b > shareSteps {
				return nil, errNotStored
			}
			m.R[k], m.G[k], m.B[k] = coloured(table[v], float64(r)/shareSteps, float64(b)/shareSteps)
		}
	}
	return m, nil
}

// coloured returns the primaries of a luminance with shares of red and blue.
func coloured(l, r, b float64) (red, green, blue float32) {
	g := 1 - r - b
	k := l / (light.WeightR*r + light.WeightG*g + light.WeightB*b)
	return float32(k * r), float32(k * g), float32(k * b)
}

var errNotStored = errors.New("the PNG is not a stored picture; expected 8-bit grey from the scene generator (photographs are given with --photo)")

// storedSize returns the samples across and down, from the head of the file.
func storedSize(data []byte) (w, h int, err error) {
	if len(data) > maxStoredBytes {
		return 0, 0, fmt.Errorf("the file has %d bytes; at most %d are read", len(data), maxStoredBytes)
	}
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return 0, 0, fmt.Errorf("the file is not a PNG picture: %w", err)
	}
	if c.Width > maxStoredSide || c.Height > maxStoredSide {
		return 0, 0, fmt.Errorf("the picture has %d x %d samples; at most %d a side are read", c.Width, c.Height, maxStoredSide)
	}
	if c.ColorModel != color.GrayModel || c.Width%2 != 0 || c.Height%5 != 0 {
		return 0, 0, errNotStored
	}
	return c.Width, c.Height / 5 * 2, nil
}

// luminances lists the luminance of every stored value.
func luminances() []float64 {
	t := make([]float64, storedMost+1)
	for v := 1; v <= storedMost; v++ {
		t[v] = storedLeast * math.Pow(storedRatio, float64(v-1))
	}
	return t
}
