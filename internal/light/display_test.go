package light

import (
	"bytes"
	"encoding/binary"
	"image/png"
	"math"
	"testing"
)

var plain = Tone{Name: "linear", WhiteCdM2: 1}

func TestDitherKeepsTheMean(t *testing.T) {
	for _, code := range []float64{0, 0.25, 1.5, 17.3, 128.9, 254.5, 255} {
		l := Decode(code / 255)
		m := uniform(GridAround(0, 0, ditherSize, ditherSize, 1), [3]float64{l, l, l})
		var sum float64
		for i, p := range plain.Encode(m).Pix {
			if i%4 == 0 {
				sum += float64(p)
			}
		}
		// 4096 thresholds, and 0.001 for the table.
		near(t, "mean code", sum/(ditherSize*ditherSize), code, 1.0/4096+0.001+1e-6)
	}
}

func TestDitherTileHoldsEveryThresholdOnceAndIsBlue(t *testing.T) {
	tile := ditherTile()
	seen := map[float32]bool{}
	for _, v := range tile {
		seen[v] = true
	}
	if len(seen) != ditherSize*ditherSize {
		t.Fatalf("%d different thresholds", len(seen))
	}
	// Blue noise holds little at low frequencies: means of 8 x 8 blocks spread
	// far less than the sqrt(1/12)/8 of independent values.
	var sum float64
	for by := range 8 {
		for bx := range 8 {
			var mean float64
			for k := range 64 {
				mean += float64(tile[(by*8+k/8)*ditherSize+bx*8+k%8]) / 64
			}
			sum += (mean - 0.5) * (mean - 0.5) / 64
		}
	}
	if white := math.Sqrt(1.0/12) / 8; math.Sqrt(sum) > white/3 {
		t.Errorf("block means spread %v, white noise %v", math.Sqrt(sum), white)
	}
}

func TestEncodedPictureIsRightToHalfAStep(t *testing.T) {
	m := NewImage(GridAround(0, 0, 256, 3, 1))
	for i := range 256 {
		l := float32(Decode(float64(i) / 255))
		m.R[i], m.G[i], m.B[i] = l, l, l
	}
	out := plain.Encode(m)
	for i := range 256 {
		c := out.NRGBAAt(i, 0)
		// An exact code may tip by one where the threshold is within 0.001 of 1.
		if math.Abs(float64(c.R)-float64(i)) > 1 || c.R != c.G || c.G != c.B || c.A != 255 {
			t.Errorf("code %d came out as %v", i, c)
		}
	}
	if !bytes.Equal(out.Pix, plain.Encode(m).Pix) {
		t.Error("two runs differ")
	}
}

func TestLinearPictureIsProportionalToLight(t *testing.T) {
	m := NewImage(GridAround(0, 0, 4, 1, 1))
	copy(m.R, []float32{0, 10, 40, 90})
	copy(m.G, []float32{40, 20, -1, 0})
	out := EncodeLinear16(m, 40)
	for i, want := range []uint16{0, 16384, 65535, 65535} {
		if got := out.NRGBA64At(i, 0).R; got != want {
			t.Errorf("pixel %d: %d, want %d", i, got, want)
		}
	}
	if out.NRGBA64At(0, 0).G != 65535 || out.NRGBA64At(1, 0).G != 32768 || out.NRGBA64At(2, 0).G != 0 {
		t.Error("green plane")
	}
}

// The PNG specification (ISO/IEC 15948) places sRGB and gAMA before IDAT; the
// standard library's reader checks every CRC.
func TestPNGSaysWhatItsNumbersMean(t *testing.T) {
	m := uniform(GridAround(0, 0, 5, 4, 1), [3]float64{0.5, 0.25, 0.125})
	var srgb, linear bytes.Buffer
	if err := WritePNG(&srgb, plain.Encode(m)); err != nil {
		t.Fatal(err)
	}
	if err := WritePNG(&linear, EncodeLinear16(m, 1)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		b    []byte
		kind string
		data []byte
	}{{srgb.Bytes(), "sRGB", []byte{1}}, {linear.Bytes(), "gAMA", binary.BigEndian.AppendUint32(nil, 100000)}} {
		if got := c.b[33+4 : 33+8]; string(got) != c.kind {
			t.Errorf("after IHDR: %q, want %q", got, c.kind)
		}
		if got := c.b[41 : 41+len(c.data)]; !bytes.Equal(got, c.data) {
			t.Errorf("%s holds %v", c.kind, got)
		}
		if c.kind == "gAMA" {
			// cHRM: white of D65 and red of sRGB come first, in units of 0.00001.
			at := 33 + 12 + 4 + 4
			if string(c.b[at:at+4]) != "cHRM" || binary.BigEndian.Uint32(c.b[at+4:]) != 31270 || binary.BigEndian.Uint32(c.b[at+12:]) != 64000 {
				t.Errorf("no primaries after gAMA: %q", c.b[at:at+16])
			}
		}
		back, err := png.Decode(bytes.NewReader(c.b))
		if err != nil {
			t.Fatal(err)
		}
		if back.Bounds().Dx() != 5 || back.Bounds().Dy() != 4 {
			t.Errorf("read back as %v", back.Bounds())
		}
	}
}

// ISO/IEC 15948: pHYs is dots a metre across and down and the unit 1, metre; 300
// dots an inch are 11811.
func TestAPrintedPictureSaysItsDensity(t *testing.T) {
	var b bytes.Buffer
	if err := WritePrintPNG(&b, plain.Encode(NewImage(GridAround(0, 0, 2, 2, 1))), 300); err != nil {
		t.Fatal(err)
	}
	want := append(binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32([]byte("pHYs"), 11811), 11811), 1)
	if !bytes.Contains(b.Bytes(), want) {
		t.Error("no pHYs chunk of 11811 dots a metre")
	}
	if _, err := png.Decode(&b); err != nil {
		t.Error(err)
	}
}
