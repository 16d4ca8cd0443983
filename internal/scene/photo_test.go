package scene

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/tiff"

	"simview/internal/light"
)

var room = Photo{Name: "photos/room.png", WidthDeg: 40, WhiteCdM2: 250, DistanceM: 3}

func encode(t *testing.T, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// quarters is grey with a white upper right and a red lower left quarter.
func quarters(w, h int) *image.NRGBA64 {
	m := image.NewNRGBA64(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.NRGBA64{R: 0x8000, G: 0x8000, B: 0x8000, A: 0xffff}
			if x >= w/2 && y < h/2 {
				c = color.NRGBA64{R: 0xffff, G: 0xffff, B: 0xffff, A: 0xffff}
			} else if x < w/2 && y >= h/2 {
				c = color.NRGBA64{R: 0xc000, A: 0xffff}
			}
			m.SetNRGBA64(x, y, c)
		}
	}
	return m
}

func TestAPhotoKeepsItsSidesItsLightAndItsSixteenBits(t *testing.T) {
	s, err := FromPhoto(bytes.NewReader(encode(t, quarters(400, 300))), room)
	if err != nil {
		t.Fatal(err)
	}
	if s.ID != "room" || s.WidthDeg != 40 || s.GlareOff || s.Night {
		t.Errorf("got %q, %g degrees, glare off %v, night %v", s.ID, s.WidthDeg, s.GlareOff, s.Night)
	}
	if math.Abs(s.Clipped-0.25) > 1e-9 {
		t.Errorf("clipped share %g, want 0.25", s.Clipped)
	}
	img := s.Draw(s.Grid(0.1))
	// sRGB 0x8000/0xffff in linear light by IEC 61966-2-1: ((0.50001+0.055)/1.055)^2.4.
	grey := 250 * math.Pow((float64(0x8000)/0xffff+0.055)/1.055, 2.4)
	if v := at(img, 10, 5); math.Abs(v-250) > 1e-3 {
		t.Errorf("upper right %g, want white 250", v)
	}
	if v := at(img, -10, 5); math.Abs(v/grey-1) > 1e-5 {
		t.Errorf("upper left %g, want %g", v, grey)
	}
	i, j := img.Pixel(-10, -5)
	k := int(math.Round(j))*img.W + int(math.Round(i))
	if img.G[k] != 0 || img.R[k] < 100 {
		t.Errorf("lower left is (%g, %g), want red", img.R[k], img.G[k])
	}
}

func TestAPhotoIsEquidistantInAngle(t *testing.T) {
	// A flat picture 80 degrees wide: the line at 3/4 of its width lies at
	// atan(tan(40 degrees)/2) = 22.76 degrees, not at 20.
	m := image.NewGray(image.Rect(0, 0, 1600, 400))
	for y := range 400 {
		for x := 1200; x < 1600; x++ {
			m.SetGray(x, y, color.Gray{Y: 250})
		}
	}
	p := room
	p.WidthDeg = 80
	s, err := FromPhoto(bytes.NewReader(encode(t, m)), p)
	if err != nil {
		t.Fatal(err)
	}
	img := s.Draw(s.Grid(0.02))
	row, edge := img.R[img.H/2*img.W:], 0
	for edge = 0; row[edge] < 100; edge++ {
	}
	x, _ := img.Centre(edge, 0)
	want := math.Atan(math.Tan(40*math.Pi/180)/2) * 180 / math.Pi
	if math.Abs(x-want) > 0.06 { // a pixel of the photograph is 0.05 degree
		t.Errorf("the edge lies at %.3f degrees, want %.3f", x, want)
	}
}

func TestAPhotoIsMirroredBeyondItsEdges(t *testing.T) {
	s, err := FromPhoto(bytes.NewReader(encode(t, quarters(400, 300))), room)
	if err != nil {
		t.Fatal(err)
	}
	img := s.Draw(light.GridAround(0, 0, 600, 600, 0.1))
	if a, b := at(img, 22.05, 5.05), at(img, 17.95, 5.05); math.Abs(a-b) > 1e-3 {
		t.Errorf("2 degrees outside %g, 2 degrees inside %g", a, b)
	}
}

func TestAPhotoDrawnFineAveragesToCoarse(t *testing.T) {
	s, err := FromPhoto(bytes.NewReader(encode(t, quarters(97, 61))), room)
	if err != nil {
		t.Fatal(err)
	}
	g := light.GridAround(1, 1, 100, 80, 0.31)
	fine := light.Grid{W: 200, H: 160, StepDeg: g.StepDeg / 2, LeftDeg: g.LeftDeg, TopDeg: g.TopDeg}
	a, b := s.Draw(g), s.Draw(fine)
	for j := range g.H {
		for i := range g.W {
			k := 2*j*fine.W + 2*i
			mean := (b.R[k] + b.R[k+1] + b.R[k+fine.W] + b.R[k+fine.W+1]) / 4
			if math.Abs(float64(mean-a.R[j*g.W+i])) > 2e-3 { // float32 rounding near 250
				t.Fatalf("at (%d, %d): %g and %g", i, j, a.R[j*g.W+i], mean)
			}
		}
	}
}

func TestAJPEGIsTurnedTheWayItsCameraWasHeld(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, quarters(64, 32), &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	// Orientation 6 (Exif 2.3): row 0 of the file is the right side of the scene.
	exif := "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x00\x00\x00\x00"
	seg := append([]byte{0xff, 0xe1, 0, byte(len(exif) + 2)}, exif...)
	data := append(append([]byte{0xff, 0xd8}, seg...), b.Bytes()[2:]...)
	p := room
	p.WidthDeg = 20
	s, err := FromPhoto(bytes.NewReader(data), p)
	if err != nil {
		t.Fatal(err)
	}
	if s.HeightDeg < s.WidthDeg {
		t.Fatalf("still %g x %g degrees", s.WidthDeg, s.HeightDeg)
	}
	// The white upper right quarter of the file turns to the lower right.
	if v := at(s.Draw(s.Grid(0.5)), 5, -10); math.Abs(v-250) > 5 {
		t.Errorf("lower right %g, want white", v)
	}
}

func TestATIFFIsRead(t *testing.T) {
	var b bytes.Buffer
	if err := tiff.Encode(&b, quarters(40, 30), nil); err != nil {
		t.Fatal(err)
	}
	s, err := FromPhoto(&b, room)
	if err != nil {
		t.Fatal(err)
	}
	if v := at(s.Draw(s.Grid(1)), 10.5, 5.5); math.Abs(v-250) > 1e-3 {
		t.Errorf("upper right %g, want 250", v)
	}
}

func TestAnUnknownWhiteSwitchesGlareOff(t *testing.T) {
	p := room
	p.WhiteCdM2 = 0
	s, err := FromPhoto(bytes.NewReader(encode(t, quarters(40, 30))), p)
	if err != nil || !s.GlareOff {
		t.Errorf("got %v, glare off %v", err, s != nil && s.GlareOff)
	}
}

// blank is a photograph of nothing but white.
func blank(t *testing.T, whiteCdM2 float64) *Scene {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 40, 30))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	p := room
	p.WhiteCdM2 = whiteCdM2
	s, err := FromPhoto(bytes.NewReader(encode(t, m)), p)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Mesopic vision ends at 5 cd/m² (CIE 191:2010, from memory).
func TestAPhotoBelowTheUpperEndOfTwilightIsANightScene(t *testing.T) {
	if !blank(t, 4.99).Night || blank(t, 5.01).Night {
		t.Error("night does not begin below 5 cd/m²")
	}
}

// Places to read have 300 to 500 lx (EN 12464-1, from memory) and paper gives
// back 0.8 of them (common practice): L = 0.8 E / pi.
func TestAnUnknownWhiteIsThatOfPaperInALitRoom(t *testing.T) {
	if got := blank(t, 0).AdaptCdM2; got < 0.8*300/math.Pi || got > 0.8*500/math.Pi {
		t.Errorf("an unknown white has %g cd/m²", got)
	}
}

// withSize rewrites the size in a PNG's header and its checksum.
func withSize(data []byte, w, h uint32) []byte {
	out := bytes.Clone(data)
	binary.BigEndian.PutUint32(out[16:], w)
	binary.BigEndian.PutUint32(out[20:], h)
	binary.BigEndian.PutUint32(out[29:], crc32.ChecksumIEEE(out[12:29]))
	return out
}

func TestPhotosThatCannotBeAreRefused(t *testing.T) {
	good := encode(t, quarters(40, 30))
	clear := image.NewNRGBA(image.Rect(0, 0, 4, 4))
	one := image.NewGray(image.Rect(0, 0, 1, 1))
	for name, c := range map[string]struct {
		data []byte
		p    Photo
		want string
	}{
		"empty":       {nil, room, "empty (0 bytes)"},
		"text":        {[]byte("hello, this is text"), room, "not a PNG, JPEG or TIFF"},
		"gif":         {[]byte("GIF89a\x01\x00\x01\x00"), room, "not a PNG, JPEG or TIFF"},
		"wide":        {withSize(good, 50000, 20), room, "50000 x 20 pixels"},
		"many":        {withSize(good, 16000, 16000), room, "16000 x 16000 pixels"},
		"cut":         {good[:len(good)/2], room, "broken"},
		"transparent": {encode(t, clear), room, "transparent"},
		"one pixel":   {encode(t, one), room, "1 x 1 pixels"},
		"large":       {make([]byte, maxPhotoBytes+1), room, "larger than 64 MiB"},
		"no width":    {good, Photo{Name: "a", DistanceM: 1}, "width must lie in"},
		"NaN width":   {good, Photo{Name: "a", WidthDeg: math.NaN(), DistanceM: 1}, "width must lie in"},
		"white":       {good, Photo{Name: "a", WidthDeg: 30, WhiteCdM2: math.Inf(1), DistanceM: 1}, "luminance of white"},
		"no distance": {good, Photo{Name: "a", WidthDeg: 30}, "distance must lie in"},
	} {
		_, err := FromPhoto(bytes.NewReader(c.data), c.p)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "photo ") {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
	}
}

func TestAPaletteThatIsTooShortIsRefused(t *testing.T) {
	m := image.NewPaletted(image.Rect(0, 0, 4, 4), color.Palette{color.Black, color.White})
	m.Pix[5] = 7
	if _, _, err := linearPhoto(m, 100); err == nil || !strings.Contains(err.Error(), "palette") {
		t.Errorf("got %v, want an error about the palette", err)
	}
}

func TestAPhotoDrawnInPartIsThatPartOfTheWhole(t *testing.T) {
	s, err := FromPhoto(bytes.NewReader(encode(t, quarters(400, 300))), room)
	if err != nil {
		t.Fatal(err)
	}
	// A grid that reaches from white above into grey below, off the centre; grey
	// is sRGB 0x8000/0xffff = 0.21404 in linear light (IEC 61966-2-1).
	img := s.Draw(light.GridAround(10, 2, 100, 100, 0.1))
	if a, b := at(img, 10, 6), at(img, 10, -2); math.Abs(a-250) > 0.01 || math.Abs(b-250*0.21404) > 0.01 {
		t.Errorf("above %g, below %g, want 250 and %g", a, b, 250*0.21404)
	}
	img = s.Draw(light.GridAround(2, 5, 100, 40, 0.1))
	if a, b := at(img, 5, 5), at(img, -2, 5); math.Abs(a-250) > 0.01 || math.Abs(b-250*0.21404) > 0.01 {
		t.Errorf("right %g, left %g, want 250 and %g", a, b, 250*0.21404)
	}
}
