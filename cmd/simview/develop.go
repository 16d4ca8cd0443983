package main

import (
	"fmt"
	"image"
	"io"
	"strings"

	"simview/internal/csf"
	"simview/internal/light"
	"simview/internal/render"
)

// viewerPupilMM is the pupil of a viewer before a bright screen.
const viewerPupilMM = 3

// made is a rendered view before it is written.
type made struct {
	light   *light.Image
	tone    light.Tone
	said    []string     // of colour, layers and tint, unless they are the usual
	outline *render.View // whose affected region is outlined; nil: none
	lost    bool         // whether the eye has a lost field
}

// develop says how a view is written.
type develop struct {
	linear     bool
	viewerGain float64
}

// check refuses choices that do not go together; path ends in .png or .tif.
func (d develop) check(path string, gainGiven, outline bool) error {
	switch {
	case outline && (d.linear || strings.HasSuffix(path, ".tif")):
		return usagef("--outline: is for a picture to be looked at, not for linear light; leave it or the other out")
	case d.linear && strings.HasSuffix(path, ".tif"):
		return usagef("--linear: a .tif is linear light by itself; leave it out")
	case !gainGiven:
		return nil
	case !(d.viewerGain > 1 && d.viewerGain <= light.MaxViewerGain):
		return usagef("--viewer-gain: must be above 1 and at most %g (got %g)", light.MaxViewerGain, d.viewerGain)
	case d.linear || strings.HasSuffix(path, ".tif"):
		return usagef("--viewer-gain: is for a picture to be looked at, not for linear light; leave it or the other out")
	}
	return nil
}

// write writes the view and says what was done to it.
func (d develop) write(w io.Writer, path string, m made) error {
	if strings.HasSuffix(path, ".tif") {
		return writeFile(path, func(w io.Writer) error { return light.WriteTIFF(w, m.light) })
	}
	if d.viewerGain == 0 {
		return writePNG(path, d.image(m))
	}
	shown, limited, err := forViewer(m, d.viewerGain)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "sharpened up to %.3g times for a viewer with a normal eye and a %g mm pupil, at true size; %.1f %% of it held by the display's range\n", d.viewerGain, float64(viewerPupilMM), 100*limited)
	return writePNG(path, shown)
}

func (d develop) image(m made) image.Image {
	if d.linear {
		return light.EncodeLinear16(m.light, m.tone.WhiteCdM2)
	}
	pic := m.tone.Encode(m.light)
	m.drawOutline(pic)
	return pic
}

// drawOutline draws the layer, if it was asked for.
func (m made) drawOutline(pic *image.NRGBA) {
	if m.outline != nil {
		m.outline.DrawOutline(pic, m.light.Grid)
	}
}

// forViewer sharpens what the display shows, so that it stays within its range.
func forViewer(m made, gain float64) (image.Image, float64, error) {
	shown := light.NewImage(m.light.Grid)
	for k := range shown.R {
		shown.R[k], shown.G[k], shown.B[k] = m.tone.RGB(m.light.R[k], m.light.G[k], m.light.B[k])
	}
	sharp, limited, err := light.ForViewer(shown, func(f float64) float64 { return csf.MeanMTF(f, viewerPupilMM) }, gain)
	if err != nil {
		return nil, 0, err
	}
	pic := light.Tone{Name: "display", WhiteCdM2: 1}.Encode(sharp)
	m.drawOutline(pic)
	return pic, limited, nil
}
