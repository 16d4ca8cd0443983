package scene

import (
	"runtime"
	"sync"
	"sync/atomic"

	"simview/internal/light"
)

// bandRows is the height of the bands that workers draw one at a time. The
// bands do not depend on the number of workers, so neither does the picture.
const bandRows = 32

// Draw returns the scene's surfaces on the grid, in cd/m² of linear light,
// every pixel the mean over its area. The grid may be of any size and lie
// anywhere, also outside the frame. Lamps are not drawn: see Lamps. It panics
// on a grid without samples or with a step that is not above 0.
func (s *Scene) Draw(g light.Grid) *light.Image {
	if g.W <= 0 || g.H <= 0 || !(g.StepDeg > 0) {
		panic("scene: draw: the grid needs samples and a step above 0 degrees")
	}
	img := light.NewImage(g)
	var band func(p *painter, j0, j1 int)
	if s.photo != nil {
		band = func(_ *painter, j0, j1 int) { s.photoRows(img, j0, j1) }
	} else {
		marks := s.marksOn(g)
		band = func(p *painter, j0, j1 int) { s.paintRows(img, marks, p, j0, j1) }
	}
	inBands(g.H, band)
	return img
}

// inBands calls f for all bands of h rows, on all processors.
func inBands(h int, f func(p *painter, j0, j1 int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			p := &painter{}
			for {
				j0 := int(next.Add(1)-1) * bandRows
				if j0 >= h {
					return
				}
				f(p, j0, min(j0+bandRows, h))
			}
		})
	}
	wg.Wait()
}

func (s *Scene) paintRows(img *light.Image, marks []mark, p *painter, j0, j1 int) {
	for c, plane := range img.Planes() {
		row := plane[j0*img.W : j1*img.W]
		for i := range row {
			row[i] = float32(s.SurroundCdM2[c])
		}
	}
	for i := range marks {
		p.paintMark(img, &marks[i], j0, j1)
	}
}
