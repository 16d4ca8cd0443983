package scene

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"math"

	"github.com/disintegration/imaging"
	"golang.org/x/image/tiff"

	"simview/internal/light"
)

// Limits on a photograph: a 60-megapixel camera passes, a file made to fill
// the memory does not.
const (
	maxPhotoBytes  = 64 << 20
	maxPhotoSide   = 16384
	maxPhotoPixels = 64 << 20
	maxPhotoDeg    = 100
)

// Photo says how a photograph stands before the eye.
type Photo struct {
	Name      string  // file name, for messages; without folder and extension the scene's ID
	WidthDeg  float64 // width of the picture as seen from where it was taken, 0.5 to 100 degrees
	WhiteCdM2 float64 // luminance of its white, cd/m²; 0 = unknown, glare is then switched off
	DistanceM float64 // distance of what it shows, m
}

// unknownWhite stands in, in cd/m², for a white that nobody knows: paper in a
// lit room. A scene made with it has GlareOff set.
const unknownWhite = 100

// FromPhoto makes a scene of a photograph in PNG, JPEG or TIFF form, told by its
// content. Colours are taken as sRGB, 8 or 16 bits a channel; a JPEG is turned
// the way its camera was held; all other metadata is dropped. The flat picture
// is resampled so that it is equidistant in angle about its centre, and mirrored
// beyond its edges. Files that are empty, too large, too many pixels, broken,
// transparent or of another form are errors that say so.
func FromPhoto(r io.Reader, p Photo) (*Scene, error) {
	s, err := fromPhoto(r, p)
	if err != nil {
		return nil, fmt.Errorf("photo %s: %w", p.Name, err)
	}
	return s, nil
}

func fromPhoto(r io.Reader, p Photo) (*Scene, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	data, err := io.ReadAll(io.LimitReader(r, maxPhotoBytes+1))
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	img, err := decode(data)
	if err != nil {
		return nil, err
	}
	white := p.WhiteCdM2
	if white == 0 {
		white = unknownWhite
	}
	flat, clipped, err := linearPhoto(img, white)
	if err != nil {
		return nil, err
	}
	return p.scene(equidistant(flat, p.WidthDeg), clipped), nil
}

func (p Photo) check() error {
	switch {
	case !(p.WidthDeg >= 0.5 && p.WidthDeg <= maxPhotoDeg):
		return fmt.Errorf("the width must lie in 0.5 to %d degrees (got %g); a phone's main camera takes in about 65", maxPhotoDeg, p.WidthDeg)
	case p.WhiteCdM2 != 0 && !(p.WhiteCdM2 >= 0.01 && p.WhiteCdM2 <= 1e5):
		return fmt.Errorf("the luminance of white must lie in 0.01 to 100000 cd/m² (got %g), or be left out", p.WhiteCdM2)
	case !(p.DistanceM >= 0.1 && p.DistanceM <= 1e5):
		return fmt.Errorf("the distance must lie in 0.1 to 100000 m (got %g)", p.DistanceM)
	}
	return nil
}

// decode checks the size before it decodes.
func decode(data []byte) (image.Image, error) {
	switch {
	case len(data) == 0:
		return nil, fmt.Errorf("the file is empty (0 bytes); expected a PNG, JPEG or TIFF picture")
	case len(data) > maxPhotoBytes:
		return nil, fmt.Errorf("the file is larger than %d MiB; save a smaller copy", maxPhotoBytes>>20)
	}
	form := formOf(data)
	if form == nil {
		return nil, fmt.Errorf("the file is not a PNG, JPEG or TIFF picture; its first bytes are % x", data[:min(8, len(data))])
	}
	c, err := form.config(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the %s file is broken: %w", form.name, err)
	}
	if c.Width < 2 || c.Height < 2 || c.Width > maxPhotoSide || c.Height > maxPhotoSide || c.Width*c.Height > maxPhotoPixels {
		return nil, fmt.Errorf("the picture has %d x %d pixels; expected 2 to %d a side and at most %d million in all; save a smaller copy",
			c.Width, c.Height, maxPhotoSide, maxPhotoPixels>>20)
	}
	img, err := form.decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the %s file is broken: %w", form.name, err)
	}
	return img, nil
}

// form is one kind of picture file.
type form struct {
	name   string
	magic  []string
	config func(io.Reader) (image.Config, error)
	decode func(io.Reader) (image.Image, error)
}

// Only JPEG passes through imaging, which turns it upright; the others may hold
// 16 bits a channel, which imaging would cut to 8.
var forms = []form{
	{"PNG", []string{"\x89PNG\r\n\x1a\n"}, png.DecodeConfig, png.Decode},
	{"JPEG", []string{"\xff\xd8\xff"}, jpeg.DecodeConfig, func(r io.Reader) (image.Image, error) {
		return imaging.Decode(r, imaging.AutoOrientation(true))
	}},
	{"TIFF", []string{"II*\x00", "MM\x00*"}, tiff.DecodeConfig, tiff.Decode},
}

func formOf(data []byte) *form {
	for i, f := range forms {
		for _, m := range f.magic {
			if bytes.HasPrefix(data, []byte(m)) {
				return &forms[i]
			}
		}
	}
	return nil
}

func (p Photo) scene(img *light.Image, clipped float64) *Scene {
	s := &Scene{
		ID: idOf(p.Name), Title: "Photograph", DistanceM: p.DistanceM,
		GoodFor:  "A place the patient knows; only as true as the photograph.",
		WidthDeg: float64(img.W) * img.StepDeg, HeightDeg: float64(img.H) * img.StepDeg,
		GlareOff: p.WhiteCdM2 == 0, Clipped: clipped, photo: img,
	}
	for c, plane := range img.Planes() {
		sum := 0.0
		for _, v := range plane {
			sum += float64(v)
		}
		s.SurroundCdM2[c] = sum / float64(len(plane))
	}
	a := s.SurroundCdM2
	s.AdaptCdM2 = light.WeightR*a[0] + light.WeightG*a[1] + light.WeightB*a[2]
	s.Night = s.AdaptCdM2 < light.NightBelowCdM2
	s.Window = Window{0, 0, math.Min(4, s.WidthDeg/3), math.Min(3, s.HeightDeg/3)}
	return s
}
