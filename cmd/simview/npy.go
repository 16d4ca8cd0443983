package main

import (
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"strings"

	"simview/internal/psf"
)

// writeNPY writes float32 values in the NumPy array format, version 1.0: magic,
// header length, a header padded to 64 bytes, the data in little-endian order.
// The last of the two or more sizes changes fastest: rows, columns, colours.
func writeNPY(w io.Writer, v []float32, sizes ...int) error {
	shape := strings.Trim(strings.Join(strings.Fields(fmt.Sprint(sizes)), ", "), "[]")
	head := fmt.Sprintf("{'descr': '<f4', 'fortran_order': False, 'shape': (%s), }", shape)
	const fixed = 10 // magic, version and length
	for (fixed+len(head)+1)%64 != 0 {
		head += " "
	}
	head += "\n"
	if _, err := io.WriteString(w, "\x93NUMPY\x01\x00"); err != nil {
		return err
	}
	if err := binary.Write(w, binary.LittleEndian, uint16(len(head))); err != nil {
		return err
	}
	if _, err := io.WriteString(w, head); err != nil {
		return err
	}
	return binary.Write(w, binary.LittleEndian, v)
}

// psfPicture shows a PSF for looking at: grey, the square root of the share of
// light over the highest.
func psfPicture(p *psf.PSF) image.Image {
	m := image.NewGray(image.Rect(0, 0, p.N, p.N))
	var peak float32
	for _, v := range p.Pix {
		peak = max(peak, v)
	}
	for i, v := range p.Pix {
		m.SetGray(i%p.N, i/p.N, color.Gray{Y: uint8(255*math.Sqrt(float64(max(v, 0)/peak)) + 0.5)})
	}
	return m
}
