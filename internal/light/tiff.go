package light

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
)

// Tags of TIFF 6.0 (1992) and their types.
const (
	tagWidth, tagHeight, tagBits, tagCompression = 256, 257, 258, 259
	tagPhotometric, tagDescription               = 262, 270
	tagOffset, tagSamples, tagRows, tagBytes     = 273, 277, 278, 279
	tagPlanar, tagFormat                         = 284, 339
	typeASCII, typeShort, typeLong               = 2, 3, 4
	photometricRGB, formatFloat, contiguous, raw = 2, 3, 1, 1
	tiffHeader, tiffEntry                        = 8, 12
)

// tiffField is an entry of the directory; data longer than 4 bytes lies apart.
type tiffField struct {
	tag, kind uint16
	count     uint32
	data      []byte
}

// WriteTIFF writes a picture as it is computed: a TIFF of 32-bit floating-point
// red, green and blue, row 0 at the top, uncompressed, in linear light. Its
// description says that they are cd/m² and where the samples lie.
func WriteTIFF(w io.Writer, m *Image) error {
	size := uint64(m.Len()) * 12
	if size > 1<<32-1<<16 {
		return fmt.Errorf("tiff: a picture of %d x %d samples is larger than the format holds (hint: a coarser step)", m.W, m.H)
	}
	fields := tiffFields(m)
	apart := tiffHeader + 2 + tiffEntry*len(fields) + 4
	b := []byte("II\x2a\x00\x08\x00\x00\x00")
	le := binary.LittleEndian
	b = le.AppendUint16(b, uint16(len(fields)))
	var rest []byte
	total := uint32(apart)
	for _, f := range fields {
		total += uint32(len(tiffApart(f)))
	}
	for _, f := range fields {
		b = le.AppendUint16(le.AppendUint16(b, f.tag), f.kind)
		b = le.AppendUint32(b, f.count)
		switch {
		case f.tag == tagOffset:
			b = le.AppendUint32(b, total)
		case len(f.data) <= 4:
			b = append(append(b, f.data...), make([]byte, 4-len(f.data))...)
		default:
			b = le.AppendUint32(b, uint32(apart+len(rest)))
			rest = append(rest, tiffApart(f)...)
		}
	}
	b = append(append(b, 0, 0, 0, 0), rest...)
	if _, err := w.Write(b); err != nil {
		return err
	}
	return writeFloats(w, m)
}

// tiffApart returns the data that lie outside the directory, of even length.
func tiffApart(f tiffField) []byte {
	if len(f.data) <= 4 {
		return nil
	}
	if len(f.data)%2 == 1 {
		return append(f.data[:len(f.data):len(f.data)], 0)
	}
	return f.data
}

func tiffFields(m *Image) []tiffField {
	le := binary.LittleEndian
	short := func(tag uint16, v ...uint16) tiffField {
		var b []byte
		for _, x := range v {
			b = le.AppendUint16(b, x)
		}
		return tiffField{tag, typeShort, uint32(len(v)), b}
	}
	long := func(tag uint16, v int) tiffField {
		return tiffField{tag, typeLong, 1, le.AppendUint32(nil, uint32(v))}
	}
	words := fmt.Sprintf("linear light: cd/m2 of linear sRGB primaries (grey of luminance L has R = G = B = L); "+
		"equidistant in angle, %.9g degrees per sample, left edge %.9g, top edge %.9g degrees; right and up are positive\x00", m.StepDeg, m.LeftDeg, m.TopDeg)
	return []tiffField{
		long(tagWidth, m.W), long(tagHeight, m.H), short(tagBits, 32, 32, 32), short(tagCompression, raw),
		short(tagPhotometric, photometricRGB),
		{tagDescription, typeASCII, uint32(len(words)), []byte(words)},
		long(tagOffset, 0), short(tagSamples, 3), long(tagRows, m.H), long(tagBytes, 12*m.Len()),
		short(tagPlanar, contiguous), short(tagFormat, formatFloat, formatFloat, formatFloat),
	}
}

func writeFloats(w io.Writer, m *Image) error {
	buf := bufio.NewWriter(w)
	row := make([]float32, 3*m.W)
	for j := range m.H {
		for i := range m.W {
			k := j*m.W + i
			row[3*i], row[3*i+1], row[3*i+2] = m.R[k], m.G[k], m.B[k]
		}
		if err := binary.Write(buf, binary.LittleEndian, row); err != nil {
			return err
		}
	}
	return buf.Flush()
}
