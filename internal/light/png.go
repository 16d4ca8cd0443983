package light

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"
)

// WritePNG writes a picture as PNG and says in it how its numbers are meant: an
// 8-bit picture ([Tone.Encode]) gets an sRGB chunk, a 16-bit one
// ([EncodeLinear16]) a gAMA chunk of 1, linear light, and a cHRM chunk with the
// white and the primaries of sRGB.
func WritePNG(w io.Writer, m image.Image) error { return writePNG(w, m, meaning(m)) }

// WritePrintPNG is [WritePNG] for a picture to be printed at dpi dots an inch
// (above 0, or it panics): a pHYs chunk says so, in dots a metre.
func WritePrintPNG(w io.Writer, m image.Image, dpi float64) error {
	if !(dpi > 0) {
		panic("light: dots an inch must be above zero")
	}
	const metre, inch = 1, 0.0254
	perMetre := uint32(math.Round(dpi / inch))
	data := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, perMetre), perMetre)
	return writePNG(w, m, append(meaning(m), chunk("pHYs", append(data, metre))...))
}

// WriteNotedPNG is [WritePNG] with a text in the file, as its description.
func WriteNotedPNG(w io.Writer, m image.Image, text string) error {
	const before = "Description\x00\x00\x00\x00\x00" // keyword; not packed, no method, language or translated keyword
	return writePNG(w, m, append(meaning(m), chunk("iTXt", append([]byte(before), text...))...))
}

// writePNG writes a PNG with more chunks after its header.
func writePNG(w io.Writer, m image.Image, more []byte) error {
	var buf bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&buf, m); err != nil {
		return err
	}
	const afterIHDR = 8 + 4 + 4 + 13 + 4 // signature, then length, type, data and check of IHDR
	all := buf.Bytes()
	for _, part := range [][]byte{all[:afterIHDR], more, all[afterIHDR:]} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

// meaning returns the chunk that says how the numbers of a picture are meant.
func meaning(m image.Image) []byte {
	switch m.(type) {
	case *image.NRGBA64, *image.RGBA64, *image.Gray16:
		return append(chunk("gAMA", binary.BigEndian.AppendUint32(nil, 100000)), chunk("cHRM", chromaticities())...)
	}
	const relativeColorimetric = 1
	return chunk("sRGB", []byte{relativeColorimetric})
}

// chromaticities returns x and y of white, red, green and blue (IEC 61966-2-1)
// in units of 0.00001.
func chromaticities() (b []byte) {
	for _, v := range [...]uint32{31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000} {
		b = binary.BigEndian.AppendUint32(b, v)
	}
	return b
}

// chunk returns a PNG chunk: length, type, data, CRC-32 of type and data.
func chunk(kind string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, kind...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}
