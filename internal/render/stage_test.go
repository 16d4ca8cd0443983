package render

import (
	"fmt"
	"math"
	"testing"

	"simview/internal/light"
	"simview/internal/psf"
)

const letters = `shapes:
  - rect: {at: [-20, -20], size: [40, 40], cdm2: 120}
  - letters: {letters: "KNRSD", at: [0, 0.6], logmar: 0.9, cdm2: 8}
  - letters: {letters: "ZHOVC", at: [0.9, 0.3], logmar: 0.5, cdm2: 8}
  - rect: {at: [-0.3, -1.2], size: [0.9, 0.6], cdm2: 60, tint: "#ff2a14"}
`

// displayStep is one step of an 8-bit display.
const displayStep = 1.0 / 255

func TestASceneThroughPerfectOpticsReturns(t *testing.T) {
	s := paperScene(t, letters)
	for _, over := range []int{1, 2} {
		frame := light.GridAround(0, 0, 128, 96, arcmin)
		st := stage(t, s, frame, over)
		got, want := core(t, st, nil), s.Draw(frame)
		if over > 1 {
			fine := frame
			fine.W, fine.H, fine.StepDeg = 2*fine.W, 2*fine.H, fine.StepDeg/2
			want, _ = s.Draw(fine).Average(2)
		}
		tone := light.Tone{WhiteCdM2: 120}
		if worst := worstStep(got, want, tone); worst > displayStep/10 {
			t.Errorf("over %d: a sample is %.5f of the display's range off", over, worst)
		}
	}
}

// worstStep is the largest difference on the display.
func worstStep(a, b *light.Image, tone light.Tone) (worst float64) {
	for c, plane := range a.Planes() {
		for i, v := range plane {
			worst = max(worst, math.Abs(coded(tone, v)-coded(tone, b.Planes()[c][i])))
		}
	}
	return worst
}

// clearMTF is the contrast a perfect round pupil keeps (Goodman, Introduction
// to Fourier Optics, 6.3; from memory), f in cycles per radian times
// wavelength over diameter:
//
//	2/pi (acos s - s sqrt(1 - s²))
func clearMTF(f, pupilMM float64) float64 {
	s := f * 180 / math.Pi * clearNM * 1e-6 / pupilMM
	return 2 / math.Pi * (math.Acos(s) - s*math.Sqrt(1-s*s))
}

// percent is how near contrasts have to come: what an end-to-end check of this
// program asks for everywhere.
const percent = 0.01

func TestTheIdealEyeKeepsTheContrastOfTheClosedForm(t *testing.T) {
	s := paperScene(t, "")
	for _, pupil := range []float64{2, 4} {
		p := spread(t, state(pupil, nil))
		for _, f := range []float64{1, 2, 3, 5, 8, 12, 16, 20} {
			frame := light.GridAround(0, 0, 240, 4, arcmin/2)
			st := drawn(t, s, frame, func(x, _ float64) float64 { return 100 * (1 + 0.5*math.Cos(2*math.Pi*f*x)) })
			got := contrastOf(row(core(t, st, p), 2), f, frame.StepDeg)
			want := 0.5 * clearMTF(f, pupil)
			near(t, fmt.Sprintf("%g mm, %g cycles per degree", pupil, f), got, want, percent*want)
		}
	}
}

func TestAGratingOnTheLinearPanelHasTheContrastOfTheNumbers(t *testing.T) {
	const f, contrast = 10, 0.5
	s := paperScene(t, "")
	v := state(4, defocusPath(-0.25))
	v.Glare = light.GlareForAge(68, 0.5)
	p, err := PSF(v)
	if err != nil {
		t.Fatal(err)
	}
	frame := light.GridAround(0, 0, 480, 4, WindowStepDeg)
	sinc := math.Sin(math.Pi*f*frame.StepDeg) / (math.Pi * f * frame.StepDeg) // a scene is drawn in means over samples
	st := drawn(t, s, frame, func(x, _ float64) float64 { return 100 * (1 + contrast*sinc*math.Cos(2*math.Pi*f*x)) })
	th := &Theatre{Scene: s, Wide: st}
	pic, _, err := th.Look(View{Eye: v}, p)
	if err != nil {
		t.Fatal(err)
	}
	panel := light.EncodeLinear16(pic.Seen, 200)
	line := make([]float64, frame.W)
	for i := range line {
		line[i] = float64(panel.NRGBA64At(i, 2).G)
	}
	want := contrast * v.Glare.Keep() * p.OTF().MTF(f, 0)
	near(t, "contrast", contrastOf(line, f, frame.StepDeg), want, percent*want)
	if keep := v.Glare.Keep(); keep > 0.95 {
		t.Errorf("the test's eye keeps %.3f of the light; it should lose enough to tell", keep)
	}
}

func TestAFrameTooLargeIsRefusedInOneSentence(t *testing.T) {
	_, err := NewStage(paperScene(t, ""), light.GridAround(0, 0, 9000, 9000, arcmin), 2, 0)
	if err == nil {
		t.Fatal("a picture of 324 million samples was taken")
	}
}

func TestThePictureHasNoBorderOfItsOwn(t *testing.T) {
	st := stage(t, paperScene(t, ""), light.GridAround(1, 2, 64, 48, arcmin), 2)
	got := core(t, st, spread(t, state(5, defocusPath(-3))))
	for i, v := range got.G {
		if math.Abs(float64(v)-100) > 1e-3 {
			t.Fatalf("even paper of 100 cd/m² has %.4f at sample %d", v, i)
		}
	}
}

// core fails the test where Core refuses.
func core(t *testing.T, st *Stage, p *psf.PSF) *light.Image {
	t.Helper()
	m, err := st.Core(p)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestAnEyeFarOutOfFocusDoesNotSeeTheOtherEdgeOfThePicture(t *testing.T) {
	// 8 D times 6 mm is 2.75 degrees across: light from 1.375 degrees off
	st := drawn(t, paperScene(t, ""), light.GridAround(0, 0, 64, 48, 2*arcmin), func(x, _ float64) float64 {
		if x > 1.067+1.5 { // right edge of the picture and more than the blur
			return 100
		}
		return 0
	})
	m := core(t, st, spread(t, state(6, defocusPath(-8))))
	for j := range m.H {
		if v := m.G[j*m.W]; v > 0.5 {
			t.Fatalf("%.3f cd/m² at the left edge come from the right", v)
		}
	}
}
