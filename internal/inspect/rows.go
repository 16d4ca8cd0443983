package inspect

import (
	"fmt"
	"math"
	"slices"

	"simview/internal/eye"
	"simview/internal/quality"
	"simview/internal/refraction"
	"simview/internal/zernike"
)

// Row is the wavefront of one plane or of one cause, fitted over the pupil.
type Row struct {
	By      string             `json:"by"`       // plane, id of a cause, or "total"
	From    []string           `json:"from"`     // how its parts are known, each origin once
	TermsUM map[string]float64 `json:"terms_um"` // by "n,m", 0.0005 µm and up
	RMSUM   float64            `json:"rms_um"`
	HighUM  float64            `json:"rms_order_3_up_um"`
	FineUM  float64            `json:"rms_beyond_fit_um"` // what the fitted orders leave
	M       float64            `json:"m_d"`
	J0      float64            `json:"j0_d"`
	J45     float64            `json:"j45_d"`
}

const (
	fitOrder = 6
	shownUM  = 5e-4 // smaller terms are not listed
)

// wavefront fits every part once and adds the fits up by plane and by cause; the
// sum of all is fitted by itself, and gives the RMS by order.
func (r *Report) wavefront(s eye.State) (err error) {
	parts := make([]fitted, len(s.Parts))
	for i, p := range s.Parts {
		if parts[i].terms, parts[i].left, err = quality.FitPath(s.PupilMM, p.PathUM, quality.FitSamples, fitOrder); err != nil {
			return fmt.Errorf("wavefront of %s: %w", p.By, err)
		}
		parts[i].part = p
	}
	if r.Parts, err = grouped(parts, func(p eye.Part) string { return p.By }); err != nil {
		return err
	}
	slices.SortStableFunc(parts, func(a, b fitted) int { return int(a.part.Plane) - int(b.part.Plane) })
	if r.Surfaces, err = grouped(parts, func(p eye.Part) string { return p.Plane.String() }); err != nil {
		return err
	}
	whole := &sum{}
	if whole.terms, whole.left, err = quality.FitPath(s.PupilMM, s.PathUM, quality.FitSamples, fitOrder); err != nil {
		return fmt.Errorf("wavefront: %w", err)
	}
	for _, p := range parts {
		whole.join(p.part.From)
	}
	r.Sight.RMSByOrderUM = quality.RMSByOrder(whole.terms)
	r.Total, err = whole.row("total")
	return err
}

// grouped returns one row for each name, in order of first appearance.
func grouped(parts []fitted, name func(eye.Part) string) ([]Row, error) {
	var names []string
	sums := map[string]*sum{}
	for _, p := range parts {
		n := name(p.part)
		if sums[n] == nil {
			names, sums[n] = append(names, n), &sum{}
		}
		if err := sums[n].add(p); err != nil {
			return nil, err
		}
	}
	rows := make([]Row, len(names))
	for i, n := range names {
		var err error
		if rows[i], err = sums[n].row(n); err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// fitted is a part as terms and what they leave at the samples, µm.
type fitted struct {
	part  eye.Part
	terms zernike.Terms
	left  []float64
}

// sum is several fitted parts together and how they are known.
type sum struct {
	terms zernike.Terms
	left  []float64
	from  []string
}

func (s *sum) join(o eye.Origin) {
	if !slices.Contains(s.from, o.String()) {
		s.from = append(s.from, o.String())
	}
}

func (s *sum) add(f fitted) (err error) {
	s.join(f.part.From)
	if s.left == nil {
		s.terms, s.left = f.terms, slices.Clone(f.left)
		return nil
	}
	for i, v := range f.left {
		s.left[i] += v
	}
	s.terms, err = s.terms.Add(f.terms)
	return err
}

func (s *sum) row(by string) (Row, error) {
	t := s.terms
	p, err := refraction.FromTermsRMS(t)
	if err != nil {
		return Row{}, fmt.Errorf("wavefront of %s: %w", by, err)
	}
	out := Row{
		By: by, From: s.from, TermsUM: map[string]float64{}, RMSUM: t.RMS(), HighUM: t.RMSOrders(3, fitOrder),
		FineUM: quality.RMS(s.left), M: float64(p.M), J0: float64(p.J0), J45: float64(p.J45),
	}
	for j, c := range t.C {
		if n, m := zernike.NM(j); n > 0 && math.Abs(c) >= shownUM {
			out.TermsUM[termName(n, m)] = c
		}
	}
	return out, nil
}

func termName(n, m int) string { return fmt.Sprintf("%d,%d", n, m) }
