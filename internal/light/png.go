package light

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"io"
)

// WritePNG writes a picture as PNG and says in it how its numbers are meant: an
// 8-bit picture ([Tone.Encode]) gets an sRGB chunk, a 16-bit one
// ([EncodeLinear16]) a gAMA chunk of 1, linear light.
func WritePNG(w io.Writer, m image.Image) error {
	var buf bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&buf, m); err != nil {
		return err
	}
	const afterIHDR = 8 + 4 + 4 + 13 + 4 // signature, then length, type, data and check of IHDR
	all := buf.Bytes()
	for _, part := range [][]byte{all[:afterIHDR], meaning(m), all[afterIHDR:]} {
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
		return chunk("gAMA", binary.BigEndian.AppendUint32(nil, 100000))
	}
	const relativeColorimetric = 1
	return chunk("sRGB", []byte{relativeColorimetric})
}

// chunk returns a PNG chunk: length, type, data, CRC-32 of type and data.
func chunk(kind string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, kind...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}
