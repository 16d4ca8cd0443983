package psf

import (
	"fmt"
	"math"
)

// margin is how many samples beyond the rim a surface reaches, so that every
// point inside has four neighbours each way and edge samples have a value.
const margin = 3

// surface is the path sampled once, on a square raster about the pupil's
// centre; point (i, j) lies at ((i-m) dx, (j-m) dx) mm, y up.
type surface struct {
	m      int     // samples from the centre to the border
	dx     float64 // mm
	radius float64 // mm
	w      []float64
	inside func(xMM, yMM float64) float64 // see Aperture.InsideMM
}

func (s *surface) width() int { return 2*s.m + 1 }

// sampleSurface asks the path at every raster point inside the pupil and
// continues it a little beyond the rim.
func sampleSurface(a Aperture, dx float64) (*surface, error) {
	r := a.DiameterMM / 2
	s := &surface{m: int(math.Ceil(r/dx)) + margin, dx: dx, radius: r, inside: a.InsideMM}
	n := s.width()
	s.w = make([]float64, n*n)
	if a.PathUM == nil {
		return s, nil
	}
	for j := range n {
		for i := range n {
			x, y := float64(i-s.m)*dx, float64(j-s.m)*dx
			v := pathOrBeyond(a.PathUM, x, y, r, dx)
			if !finite(v) {
				return nil, fmt.Errorf("psf: path at pupil point (%.3f, %.3f) mm: must be a finite number of µm (got %g); does the wavefront cover the whole %.2f mm pupil?", x, y, v, a.DiameterMM)
			}
			s.w[j*n+i] = v
		}
	}
	return s, nil
}

// pathOrBeyond returns the path at (x, y); outside the rim, the cubic through
// the four points R, R-h, R-2h, R-3h of the same radius, so that the path is
// never asked where it need not be known. Corners no sample uses get 0.
func pathOrBeyond(path func(x, y float64) float64, x, y, rim, h float64) float64 {
	r := math.Hypot(x, y)
	if r <= rim {
		return path(x, y)
	}
	if r > rim+2*margin*h {
		return 0
	}
	wt := lagrange4(-1 - (r-rim)/h) // nodes -1, 0, 1, 2 are R, R-h, R-2h, R-3h
	sum := 0.0
	for k, w := range wt {
		at := (rim - float64(k)*h) / r
		sum += w * path(x*at, y*at)
	}
	return sum
}

// lagrange4 returns the weights of the cubic through the nodes -1, 0, 1, 2 at t.
func lagrange4(t float64) [4]float64 {
	return [4]float64{
		-t * (t - 1) * (t - 2) / 6,
		(t + 1) * (t - 1) * (t - 2) / 2,
		-(t + 1) * t * (t - 2) / 2,
		(t + 1) * t * (t - 1) / 6,
	}
}

// resample returns the path on a raster of half-width m and step dx, by cubics
// along x and then along y.
func (s *surface) resample(m int, dx float64) []float64 {
	n, out := s.width(), 2*m+1
	if dx == s.dx && m <= s.m {
		return s.crop(m)
	}
	start, wt := s.stencils(m, dx)
	rows := make([]float64, n*out)
	for j := range n {
		for i := range out {
			p := s.w[j*n+start[i] : j*n+start[i]+4]
			rows[j*out+i] = wt[i][0]*p[0] + wt[i][1]*p[1] + wt[i][2]*p[2] + wt[i][3]*p[3]
		}
	}
	w := make([]float64, out*out)
	for j := range out {
		for k, c := range wt[j] {
			row := rows[(start[j]+k)*out : (start[j]+k+1)*out]
			for i, v := range row {
				w[j*out+i] += c * v
			}
		}
	}
	return w
}

// stencils returns, for each point of the wanted raster, the first of its four
// neighbours and their weights.
func (s *surface) stencils(m int, dx float64) (start []int, wt [][4]float64) {
	for i := -m; i <= m; i++ {
		at := float64(i)*dx/s.dx + float64(s.m)
		k := min(max(int(math.Floor(at)), 1), s.width()-3)
		start, wt = append(start, k-1), append(wt, lagrange4(at-float64(k)))
	}
	return start, wt
}

func (s *surface) crop(m int) []float64 {
	n, out := s.width(), 2*m+1
	w := make([]float64, 0, out*out)
	for j := s.m - m; j <= s.m+m; j++ {
		w = append(w, s.w[j*n+s.m-m:j*n+s.m+m+1]...)
	}
	return w
}

// steepest returns the largest slope along x or y, in radians, of the path plus
// a change of focus of power D about the point (cx, cy) mm off the centre.
func (s *surface) steepest(power, cx, cy float64) float64 {
	n, g := s.width(), 0.0
	for j := range n - 1 {
		for i := range n - 1 {
			x, y := float64(i-s.m)*s.dx, float64(j-s.m)*s.dx
			if math.Hypot(math.Abs(x)+s.dx, math.Abs(y)+s.dx) > s.radius {
				continue
			}
			if s.inside != nil && s.inside(x, y) < -2*s.dx {
				continue // that light passes beside the lens
			}
			here := s.w[j*n+i]
			gx := (s.w[j*n+i+1]-here)/s.dx - power*(x+s.dx/2+cx)
			gy := (s.w[(j+1)*n+i]-here)/s.dx - power*(y+s.dx/2+cy)
			g = max(g, math.Abs(gx), math.Abs(gy))
		}
	}
	return g / 1000 // µm per mm
}
