package web

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"math"

	"simview/internal/cause"
	"simview/internal/light"
	"simview/internal/match"
	"simview/internal/render"
	"simview/internal/scene"
)

// What the fellow eye tells apart is predicted from its own retinal images of the
// pictures as they stand on the screen: sharpened by the correction for the screen,
// with everything else that is wrong with it. Two pictures are told apart with
//
//	P = 1/2 + 1/2 (1 - 2^(-share / halfShare))
//
// share being that of the picture in which the two differ by more than differStep of
// the display's range. Guessing gives 1/2. All four numbers are our own choice.
const (
	differStep  = 0.05 // as for "not visible here"
	halfShare   = 0.01 // found half of the time, so P is match.MinApart
	screenWhite = 200  // cd/m², a usual display
	screenWidth = 400  // samples across one picture
)

// telling holds the predicted shares of right answers, the foil last.
type telling [][]float64

// among are those of the first n pictures.
func (t telling) among(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = t[i][:n]
	}
	return out
}

// stands reports whether picture n is told from all before it.
func (t telling) stands(n int) bool {
	for _, p := range t[n][:n] {
		if p < match.MinApart {
			return false
		}
	}
	return true
}

// tellApart turns the share of a picture that differs into a share of right answers.
func tellApart(share float64) float64 { return 0.5 + 0.5*(1-math.Exp2(-share/halfShare)) }

// foretold is a prediction with what the plan keeps of it.
type foretold struct {
	telling
	fellow, how string
}

// apart predicts what the fellow eye tells apart, and notes in the plan how.
func (s *Server) apart(ctx context.Context, p *plan, pics []image.Image) (telling, error) {
	name := fmt.Sprintf("%s|%s|%g|%g|%s|%s|%q|%t", p.Case, p.Eye, p.ScreenM, p.PictureCM, p.Scene, p.Part, p.Views, s.matches.full)
	f, err := s.matches.foretold.get(name, func() (f foretold, err error) {
		f.telling, err = s.foretell(ctx, p, pics)
		f.fellow, f.how = p.Fellow, p.Prediction
		return f, err
	})
	p.Fellow, p.Prediction = f.fellow, f.how
	return f.telling, err
}

func (s *Server) foretell(ctx context.Context, p *plan, pics []image.Image) (telling, error) {
	look, err := s.fellowLook(p)
	if err != nil {
		return nil, err
	}
	seen := make([][]float32, len(pics))
	for i, pic := range pics {
		err := s.turns.work(ctx, true, func() (err error) {
			seen[i], err = look(pic)
			return err
		})
		if err != nil {
			return nil, fmt.Errorf("what the fellow eye would see: %w", err)
		}
	}
	t := make(telling, len(pics))
	for i := range t {
		t[i] = make([]float64, len(pics))
		for j := range i {
			t[i][j] = tellApart(shareApart(seen[i], seen[j]))
			t[j][i] = t[i][j]
		}
	}
	return t, nil
}

// fellowLook returns what the fellow eye's nerve passes on of a picture on the
// screen, as signals of a display, 0 to 1.
func (s *Server) fellowLook(p *plan) (func(image.Image) ([]float32, error), error) {
	side, err := s.complaintEye(*p)
	if err != nil {
		return nil, err
	}
	v := cause.Viewing{DistanceM: p.ScreenM}
	e, set := s.eyes[side], cause.Strengths{}
	who := "a usual eye of this age, because the case describes no other eye"
	if f := s.eyes[side.Other()]; f != nil {
		e, set, who = f, f.AllBut(cause.Cylinder), "the "+f.Side.String()+" eye as measured, with its best correction for the screen"
		p.Fellow = f.Side.String()
	}
	state, err := e.State(set, v, cause.Refracted)
	if err != nil {
		return nil, fmt.Errorf("the fellow eye at the screen: %w", err)
	}
	spread, err := render.PSF(state)
	if err != nil {
		return nil, fmt.Errorf("the fellow eye at the screen: %w", err)
	}
	wide := p.wideDeg()
	p.Prediction = fmt.Sprintf("what is told apart was predicted for %s, at %.2g m, pictures %.3g degrees wide on a display of %d cd/m², looking at the middle; "+
		"two pictures that differ by more than %g %% of the display's range over %g %% of their area are told apart half of the time (assumed)",
		who, p.ScreenM, wide, screenWhite, 100*differStep, 100*halfShare)
	return func(pic image.Image) ([]float32, error) {
		sc, err := onScreen(pic, wide, p.ScreenM)
		if err != nil {
			return nil, err
		}
		stage, err := render.NewStage(sc, sc.Grid(wide/screenWidth), 1, 0)
		if err != nil {
			return nil, err
		}
		t := render.Theatre{Scene: sc, Wide: stage}
		seen, _, err := t.Look(render.View{Eye: state}, spread)
		if err != nil {
			return nil, err
		}
		return signals(seen.Seen.Luminance(nil)), nil
	}, nil
}

// onScreen is a picture as a thing to look at.
func onScreen(pic image.Image, wideDeg, distanceM float64) (*scene.Scene, error) {
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, pic); err != nil {
		return nil, err
	}
	return scene.FromPhoto(&b, scene.Photo{Name: "screen.png", WidthDeg: wideDeg, WhiteCdM2: screenWhite, DistanceM: distanceM})
}

// signals turns luminance on the screen into what a display would be sent.
func signals(cdm2 []float32) []float32 {
	for i, l := range cdm2 {
		cdm2[i] = float32(light.Encode(min(1, max(0, float64(l)/screenWhite))))
	}
	return cdm2
}

// shareApart is the share of samples in which two pictures differ visibly.
func shareApart(a, b []float32) float64 {
	n := 0
	for i := range a {
		if d := a[i] - b[i]; d > differStep || d < -differStep {
			n++
		}
	}
	return float64(n) / float64(len(a))
}

// luma are the signals of an encoded picture, 0 to 1.
func luma(pic image.Image) []float32 {
	b := pic.Bounds()
	out := make([]float32, 0, b.Dx()*b.Dy())
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, bl, _ := pic.At(x, y).RGBA()
			out = append(out, (light.WeightR*float32(r)+light.WeightG*float32(g)+light.WeightB*float32(bl))/math.MaxUint16)
		}
	}
	return out
}
