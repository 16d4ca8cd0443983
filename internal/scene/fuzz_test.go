package scene

import (
	"bytes"
	"testing"

	"simview/internal/light"
)

// FuzzParse holds that no file makes the reader or the drawing fail other than
// with an error.
func FuzzParse(f *testing.F) {
	f.Add([]byte(head + "  - rect: {at: [0, 0], size: [1, 1], cdm2: 1}\n"))
	f.Add([]byte(head + "  - group: {plane: {origin_m: [0, -1.5, 0], up: [0, 0, 1]}, shapes: [{rect: {at: [0.5, -20], size: [2, 100], cdm2: 0}}]}\n"))
	f.Add([]byte(head + "  - line: {points: [[0, 0], [0, 0]], width: 1, smooth: true, closed: true, cdm2: 3, fade: {cdm2: 4, from: [0, 0], to: [1, 1]}}\n"))
	f.Add([]byte(head + "  - text: {lines: [\"a\"], logmar: 300, cdm2: 1}\n"))
	f.Add([]byte(head + "  - rect: {at: [-1e300, 0], size: [1e300, 1e-300], cdm2: 1, texture: {seed: 1, cell: [1e-300, 1e300], octaves: 9, amplitude: 1}}\n"))
	f.Add([]byte(head + "  - ellipse: {at: [1e18, 0], radius: [1e300, 1], cdm2: 1e300, soft: true}\n"))
	f.Add([]byte(whole1))
	f.Add([]byte(strewnParts + "  - scatter: {part: leaf, at: [-5, -4], size: [1e300, 1e-300], count: 9, seed: 1, round: true, scales: [1e-300, 99], horizon: 1e300}\n"))
	f.Fuzz(func(_ *testing.T, data []byte) {
		s, err := Parse("fuzz.yaml", data)
		if err != nil || len(s.shapes) > 100 {
			return
		}
		s.Draw(light.GridAround(0, 0, 16, 12, 0.5))
	})
}

func FuzzPhoto(f *testing.F) {
	f.Add([]byte("\x89PNG\r\n\x1a\n"))
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x10Exif"))
	f.Add([]byte("II*\x00\x08\x00\x00\x00"))
	f.Fuzz(func(_ *testing.T, data []byte) {
		FromPhoto(bytes.NewReader(data), room)
	})
}
