package scene

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"simview/internal/light"
)

// head is a complete scene but for its shapes; the first shape stands in line 12.
const head = `title: T
good_for: G
distance_m: 4
width_deg: 10
height_deg: 8
adapt_cdm2: 100
surround_cdm2: 100
pupil: bright
window: {x_deg: 0, y_deg: 0, width_deg: 4, height_deg: 3}
lamps: []
shapes:
`

func mustParse(t *testing.T, shapes string) *Scene {
	t.Helper()
	s, err := Parse("test.yaml", []byte(head+shapes))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// inkRows returns the number of rows from the first to the last that holds ink,
// which is darker than half of a ground of 100 cd/m².
func inkRows(img *light.Image) int {
	top, bottom := -1, -1
	for j := range img.H {
		for i := range img.W {
			if img.R[j*img.W+i] < 50 {
				if top < 0 {
					top = j
				}
				bottom = j
			}
		}
	}
	return bottom - top + 1
}

// area returns the area in square arcmin that a black shape on 100 cd/m² covers.
func area(img *light.Image) float64 {
	sum := 0.0
	for _, v := range img.R {
		sum += 1 - float64(v)/100
	}
	return sum * img.StepDeg * img.StepDeg * 3600
}

func TestSurfacesHaveTheStatedLuminance(t *testing.T) {
	s := mustParse(t, `  - rect: {at: [-2, -2], size: [4, 4], cdm2: 127}
  - rect: {at: [-1, -1], size: [2, 2], cdm2: 6.35, tint: "#c04020"}
  - ellipse: {at: [3.5, 0], radius: [0.5, 1], cdm2: 40, opacity: 0.25, tint: "#20c040"}
  - polygon: {points: [[-4, -1], [-3, -1], [-3, 1], [-4, 1]], cdm2: 11, add: true}
`)
	img := s.Draw(s.Grid(0.05))
	lum := img.Luminance(nil)
	for _, c := range []struct{ x, y, want float64 }{
		{0, 3.5, 100}, {1.5, 1.5, 127}, {0, 0, 6.35}, {3.5, 0, 85}, {-3.5, 0, 111},
	} {
		i, j := img.Pixel(c.x, c.y)
		got := float64(lum[int(math.Round(j))*img.W+int(math.Round(i))])
		// float32 sums of three products: a few 1e-7.
		if math.Abs(got/c.want-1) > 1e-5 {
			t.Errorf("at (%g, %g): %g cd/m², want %g", c.x, c.y, got, c.want)
		}
	}
}

func TestCoverageIsTheAreaOfTheShape(t *testing.T) {
	// Areas from elementary geometry, at places that no pixel edge meets.
	for _, c := range []struct {
		name, shape string
		want        float64 // square degrees
	}{
		{"rect", "rect: {at: [0.123, 0.077], size: [1.31, 0.57], cdm2: 0}", 1.31 * 0.57},
		{"triangle", "polygon: {points: [[-1.03, -1], [2.01, -0.7], [0.3, 1.9]], cdm2: 0}", 0.5 * math.Abs(3.04*2.9-1.33*0.3)},
		{"ellipse", "ellipse: {at: [0.3, 0.2], radius: [1.7, 0.6], cdm2: 0}", math.Pi * 1.7 * 0.6},
		{"line", "line: {points: [[-1, -1], [2, 3]], width: 0.13, cdm2: 0}", 5 * 0.13},
		{"frame", "line: {points: [[-1, -1], [1, -1], [1, 1], [-1, 1]], width: 0.2, closed: true, cdm2: 0}", 2.2*2.2 - 1.8*1.8},
		{"sliver", "rect: {at: [0.003, -2], size: [0.004, 4], cdm2: 0}", 0.016},
	} {
		s := mustParse(t, "  - "+c.shape+"\n")
		got := area(s.Draw(s.Grid(0.05))) / 3600
		// Chords of ellipses stay within 1/100 of a pixel: under 0.1 % here.
		if math.Abs(got/c.want-1) > 1e-3 {
			t.Errorf("%s: covers %.6f square degrees, want %.6f", c.name, got, c.want)
		}
	}
}

func TestLettersStandOnFiveByFiveWithStrokesOfOne(t *testing.T) {
	// Areas on the 5 x 5 box from the constructions: strokes are 1 wide, rings
	// go from radius 1.5 to 2.5 (area 4 pi) or 0.5 to 1.5 (2 pi).
	v := vSlant
	want := map[rune]float64{
		'H': 13, 'O': 4 * math.Pi, 'D': 5 + 3 + 2*math.Pi, 'S': 6 + 3*math.Pi,
		'Z': 5 + 5 + 1.25*3, 'N': 5 + 5 + 1.25*5 - overlapN(),
		'R': 5 + 2.5*2 + math.Pi + 2*1.25, 'K': 5 + kArms(), 'V': 2*5*v - overlapV(v),
		'C': 4*math.Pi - gapC(),
	}
	for r, a := range want {
		for _, logMAR := range []float64{0, 0.3, 1} {
			s := mustParse(t, fmt.Sprintf("  - letters: {letters: %q, at: [0.0031, 0.0017], logmar: %g, cdm2: 0}\n", string(r), logMAR))
			u := math.Pow(10, logMAR) // one stroke, minutes of arc
			got := area(s.Draw(light.GridAround(0, 0, 400, 400, u/60/20)))
			// Chords within 1/100 pixel at 20 pixels a stroke: under 0.3 %.
			if math.Abs(got/(a*u*u)-1) > 3e-3 {
				t.Errorf("%c at logMAR %g: area %.4f strokes², want %.4f", r, logMAR, got/u/u, a)
			}
		}
	}
}

// overlapN: a stem and the diagonal share a triangle 1 wide at each end.
func overlapN() float64 { return 2 * (1 * (5 - 11.0/3) / 2) }

// overlapV: the limbs share the kite under their inner crossing.
func overlapV(w float64) float64 {
	h := 5 - 5*(2.5-w)/(2.5-w/2) // height of the crossing
	return w * h / 2
}

// kArms: the shoelace areas of the two arms of the K.
func kArms() float64 {
	return shoelace([]pt{{3.586, 5}, {5, 5}, {1, 1}, {1, 2.414}}) + shoelace([]pt{{3.75, 0}, {5, 0}, {2.857, 2.857}, {2.143, 2.143}})
}

// gapC: the part of the ring right of centre in a strip 1 high.
func gapC() float64 {
	strip := func(r float64) float64 { // half strip 0..0.5 under a circle
		return 2 * (0.5*math.Sqrt(r*r-0.25)*0.5 + r*r*math.Asin(0.5/r)*0.5)
	}
	return strip(2.5) - strip(1.5)
}

func shoelace(p []pt) float64 {
	s := 0.0
	for i, a := range p {
		b := p[(i+1)%len(p)]
		s += a.x*b.y - b.x*a.y
	}
	return math.Abs(s) / 2
}

func TestLetterHeightAndStrokeAreTrueLogMAR(t *testing.T) {
	// Height 5 x 10^logMAR minutes of arc, stroke a fifth (ISO 8596 proportion);
	// at 4 m logMAR 0 is 5.818 mm high.
	if mm := 2 * 4000 * math.Tan(LetterArcmin(0)/120*math.Pi/180); math.Abs(mm-5.818) > 0.001 {
		t.Errorf("logMAR 0 at 4 m is %.4f mm high, want 5.818", mm)
	}
	for _, logMAR := range []float64{-0.3, 0, 0.5, 1} {
		s := mustParse(t, fmt.Sprintf("  - letters: {letters: H, at: [0, 0], logmar: %g, cdm2: 0}\n", logMAR))
		u := math.Pow(10, logMAR)
		img := s.Draw(light.GridAround(0, 0, 600, 600, u/60/100)) // 100 pixels a stroke
		column, row := 0.0, 0.0                                   // through the left stem; through the upper half
		for k := range 600 {
			column += 1 - float64(img.R[k*600+100])/100
			row += 1 - float64(img.R[150*600+k])/100
		}
		if math.Abs(column/500-1) > 0.01 || math.Abs(row/200-1) > 0.01 {
			t.Errorf("logMAR %g: stem %.1f high (want 500), two stems %.1f wide (want 200), in hundredths of a stroke", logMAR, column, row)
		}
	}
}

func TestSmallXHasTheStatedSize(t *testing.T) {
	s := mustParse(t, `  - text: {lines: ["x"], at: [0, 0], logmar: 1, cdm2: 0}`+"\n")
	img := s.Draw(light.GridAround(0.3, 0.4, 1200, 1200, 1.0/1200))
	// 50 minutes of arc = 1000 pixels; edges are found to a pixel.
	if h := inkRows(img); math.Abs(float64(h)-1000) > 3 {
		t.Errorf("the x is %d pixels high, want 1000", h)
	}
}

func TestFineDrawingAveragesToCoarse(t *testing.T) {
	s := mustParse(t, `  - rect: {at: [-60, -60], size: [120, 120], cdm2: 80, texture: {seed: 3, cell: [1, 0.4], octaves: 5, amplitude: 0.06}}
  - rect: {at: [-60, -60], size: [120, 59], cdm2: 60, texture: {seed: 4, cell: [1, 1], octaves: 6, amplitude: 0.06, ground_m: 1.5}}
  - letters: {letters: SDKNR, at: [0, 0.5], logmar: 0.2, cdm2: 5}
  - text: {lines: ["tide 04:12"], at: [-1, 1], logmar: 0.1, cdm2: 5}
  - ellipse: {at: [1, -1], radius: [0.7, 0.3], cdm2: 40, soft: true, tint: "#ffc080"}
  - line: {points: [[-2, -2], [2, -1.7]], width: 0.004, cdm2: 400}
`)
	g := light.GridAround(0.1, 0, 240, 200, 1.0/60)
	fine := g
	fine.W, fine.H, fine.StepDeg = 480, 400, g.StepDeg/2
	coarse, img := s.Draw(g), s.Draw(fine)
	for c, p := range coarse.Planes() {
		f := img.Planes()[c]
		for j := range g.H {
			for i := range g.W {
				k := 2*j*fine.W + 2*i
				mean := (f[k] + f[k+1] + f[k+fine.W] + f[k+fine.W+1]) / 4
				// 1 % of white: coverage and texture are each averaged over a pixel,
				// and their product is not quite the mean of the product.
				if math.Abs(float64(mean-p[j*g.W+i])) > 1 {
					t.Fatalf("plane %d at (%d, %d): %g coarse, %g averaged", c, i, j, p[j*g.W+i], mean)
				}
			}
		}
	}
}

func TestTextureHasTheStatedStrengthAndMean(t *testing.T) {
	s := mustParse(t, `  - rect: {at: [-60, -60], size: [120, 120], cdm2: 80, texture: {seed: 9, cell: [0.4, 0.4], octaves: 3, amplitude: 0.1}}`+"\n")
	img := s.Draw(light.GridAround(0, 0, 1500, 1500, 0.02))
	sum, sq := 0.0, 0.0
	for _, v := range img.R {
		d := float64(v)/80 - 1
		sum, sq = sum+d, sq+d*d
	}
	n := float64(img.Len())
	// 75 x 75 independent coarse grains: mean to 0.1/75 and rms to 2 %, times 3.
	if mean, rms := sum/n, math.Sqrt(sq/n); math.Abs(mean) > 0.004 || math.Abs(rms/0.1-1) > 0.06 {
		t.Errorf("texture mean %.4f rms %.4f, want 0 and 0.1", mean, rms)
	}
}

func TestContentGoesOnBeyondTheFrame(t *testing.T) {
	s := mustParse(t, `  - rect: {at: [-60, -60], size: [120, 60], cdm2: 30}`+"\n")
	img := s.Draw(light.GridAround(20, 0, 10, 10, 0.5))
	if img.R[0] != 100 || img.R[99] != 30 {
		t.Errorf("outside the frame: %g above and %g below, want the surround 100 and the ground 30", img.R[0], img.R[99])
	}
}

func TestAPictureDoesNotDependOnWhereItsGridBegins(t *testing.T) {
	s := mustParse(t, `  - rect: {at: [-60, -60], size: [120, 120], cdm2: 80, texture: {seed: 3, cell: [1, 0.4], octaves: 5, amplitude: 0.2}}
  - letters: {letters: SDKNR, at: [0, 0], logmar: 0.5, cdm2: 5}
`)
	a, b := s.Draw(light.GridAround(0, 0, 100, 100, 0.02)), s.Draw(light.GridAround(0, 0, 100, 100, 0.02).Grow(37))
	for j := range 100 {
		for i := range 100 {
			va, vb := a.G[j*100+i], b.G[(j+37)*174+i+37]
			if math.Abs(float64(va-vb)) > 1e-3 { // float32 rounding of sums near 100
				t.Fatalf("at (%d, %d): %g and %g", i, j, va, vb)
			}
		}
	}
}

func TestErrorsNameTheLineAndHelp(t *testing.T) {
	for _, c := range []struct{ shapes, want string }{
		{"  - rect: {at: [0, 0], size: [1, 1], cdm2: 1}\n  - rect: {at: [0, 0], size: [1, 1], cdm3: 1}\n", `test.yaml:13: unknown key "cdm3"; did you mean "cdm2"?`},
		{"  - retc: {at: [0, 0]}\n", `test.yaml:12: unknown key "retc"; did you mean "rect"?`},
		{"  - rect: {at: [0, 0], size: [1, -1], cdm2: 1}\n", "test.yaml:12: rect: size: must be above 0 (got -1)"},
		{"  - letters: {letters: SQ, at: [0, 0], logmar: 0, cdm2: 1}\n", `'Q' is not one of the ten letters`},
		{"  - rect: {at: [.nan, 0], size: [1, 1], cdm2: 1}\n", "test.yaml:12: rect: every number must be finite"},
		{"  - rect: {at: [0, 0], size: [1, 1], cdm2: 1, tint: red}\n", "test.yaml:12: rect: tint: must be a colour"},
		{"  - use: {part: boat, at: [0, 0]}\n", `test.yaml:12: use: there is no part "boat"`},
		{"  - text: {lines: [\"\u4e2d\"], at: [0, 0], logmar: 0, cdm2: 1}\n", "the font has no character"},
		{"  - {rect: {at: [0, 0], size: [1, 1], cdm2: 1}, ellipse: {at: [0, 0], radius: [1, 1], cdm2: 1}}\n", "exactly one of"},
		{"  - rect: {at: [0, 0], size: [1, 1]}\n", "test.yaml:12: rect: cdm2: missing"},
		{"  - rect: {at: [0, 0, 1], size: [1, 1], cdm2: 1}\n", "test.yaml:12: expected 2 numbers such as [1, 2.5] (got [0, 0, 1])"},
		{"  - rect: {at: [0], size: [1, 1], cdm2: 1}\n", "test.yaml:12: expected 2 numbers"},
		{"  - line: {points: [[0, 0], [1, x]], width: 1, cdm2: 1}\n", "test.yaml:12: expected 2 numbers"},
		{"  - group: {plane: {origin_m: [0, 1]}, shapes: []}\n", "test.yaml:12: expected 3 numbers"},
		{"  - rect: {at: [0, 0], size: [1, 1], cdm2: bright}\n", "test.yaml:12:"},
		{"  []\n", "shapes: missing"},
	} {
		_, err := Parse("test.yaml", []byte(head+c.shapes))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v\nwant something with %s", err, c.want)
		}
	}
	_, err := Parse("x.yaml", []byte(strings.Replace(head, "distance_m: 4", "distance_m: -4", 1)+"  - rect: {at: [0, 0], size: [1, 1], cdm2: 1}\n"))
	if err == nil || !strings.Contains(err.Error(), "x.yaml:3: distance_m") {
		t.Errorf("got %v, want the line of distance_m", err)
	}
}

func TestHostileFilesAreRefused(t *testing.T) {
	bomb := "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: [*b,*b,*b,*b,*b,*b,*b]\n"
	own := "parts:\n  p:\n    - use: {part: p}\n"
	many := "parts:\n  p:\n    - rect: {at: [0, 0], size: [1, 1], cdm2: 1}\n  q:\n    - use: {part: p, count: 10000}\n"
	for name, c := range map[string]struct{ data, want string }{
		"bomb":     {bomb, "anchors and aliases"},
		"deep":     {"a: " + strings.Repeat("[", 5000) + strings.Repeat("]", 5000), "nested more than"},
		"dashes":   {strings.Repeat("- ", 100000), "nested more than"},
		"large":    {strings.Repeat("# comment\n", 40000), "at most"},
		"empty":    {"", "empty"},
		"two":      {head + "  - rect: {at: [0, 0], size: [1, 1], cdm2: 1}\n---\na: 1\n", "one YAML document"},
		"garbage":  {"\x00\x01{{{", "bad.yaml"},
		"own part": {strings.Replace(head, "shapes:\n", own+"shapes:\n", 1) + "  - use: {part: p}\n", "a part use itself"},
		"too many": {strings.Replace(head, "shapes:\n", many+"shapes:\n", 1) + "  - use: {part: q, count: 10000}\n", "more than"},
	} {
		_, err := Parse("bad.yaml", []byte(c.data))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", name, err, c.want)
		}
	}
}
