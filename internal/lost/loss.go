package lost

import (
	"errors"
	"fmt"
	"math"

	"simview/internal/light"
)

// Loss is what an eye does not see of what the reference eye sees.
type Loss struct {
	Share float64 // of all that is visible to the reference eye, 0 to 1
	Bands []Band  // low ones first
	Map   Map
}

// Percent is the share in words of a hundred, for people.
func (l Loss) Percent() string { return fmt.Sprintf("%.0f %%", 100*l.Share) }

// Band is the loss in one octave.
type Band struct {
	CyclesPerDegree float64 // its centre
	Seen            float64 // mean visibility to the reference eye over the picture, 0 to 1
	Share           float64 // of that lost, 0 to 1; 0 where nothing was visible
}

// Map is the loss by place, on squares of half a degree.
type Map struct {
	Grid light.Grid
	Seen []float32 // bands visible to the reference eye, 0 to their number
	Lost []float32 // of these not to the eye
}

// At returns the share lost at a place, 0 where the reference eye sees next to
// nothing or outside the picture.
func (m Map) At(xDeg, yDeg float64) float64 {
	q, ok := square(m.Grid, xDeg, yDeg)
	if !ok || m.Seen[q] < leastSeen {
		return 0
	}
	return float64(m.Lost[q] / m.Seen[q])
}

// nothing is the mean visibility, summed over bands, of a scene in which nothing is
// seen: a contrast of a hundredth of the threshold everywhere.
const nothing = 1e-6

// leastSeen is the visibility, summed over bands, below which a square is empty: a
// tenth of one band at threshold.
const leastSeen = 0.05

// Against compares what an eye sees with what the reference eye sees. Both must
// come from one stage. A scene in which the reference eye sees nothing is an error.
func (s *Seen) Against(reference *Seen) (Loss, error) {
	if s.stage != reference.stage {
		return Loss{}, errors.New("lost: the two eyes looked at different stages")
	}
	out := Loss{Map: s.stage.emptyMap()}
	var all, gone float64
	for k, f0 := range s.stage.bands.Centres() {
		seen, lost := out.Map.add(reference.bands[k], s.bands[k])
		b := Band{CyclesPerDegree: f0, Seen: seen}
		if seen > 0 {
			b.Share = lost / seen
		}
		out.Bands = append(out.Bands, b)
		all, gone = all+seen, gone+lost
	}
	if all < nothing {
		return Loss{}, fmt.Errorf("lost: the reference eye sees no contrast in scene %s", s.stage.scene.ID)
	}
	out.Share = gone / all
	return out, nil
}

func (st *Stage) emptyMap() Map {
	g := light.GridAround(0, 0, int(st.scene.WidthDeg/nodeDeg+0.999), int(st.scene.HeightDeg/nodeDeg+0.999), nodeDeg)
	return Map{g, make([]float32, g.Len()), make([]float32, g.Len())}
}

// add lays one band into the map and returns the mean visibility to the reference
// eye and the mean of what is lost of it.
func (m Map) add(ref, eye layer) (seen, lost float64) {
	share := float32(ref.dx * ref.dy / (m.Grid.StepDeg * m.Grid.StepDeg))
	columns := make([]int, ref.w)
	for i := range columns {
		x, _ := ref.place(i, 0)
		fi, _ := m.Grid.Pixel(x, 0)
		columns[i] = int(math.Floor(fi + 0.5))
	}
	for j := range ref.h {
		_, y := ref.place(0, j)
		_, fj := m.Grid.Pixel(0, y)
		row := int(math.Floor(fj + 0.5))
		inside := row >= 0 && row < m.Grid.H
		for i, column := range columns {
			q := j*ref.w + i
			r, gone := ref.v[q], max(0, ref.v[q]-eye.v[q])
			seen, lost = seen+float64(r), lost+float64(gone)
			if inside && column >= 0 && column < m.Grid.W {
				m.Seen[row*m.Grid.W+column] += share * r
				m.Lost[row*m.Grid.W+column] += share * gone
			}
		}
	}
	n := float64(len(ref.v))
	return seen / n, lost / n
}

// square returns the index of the sample that a place falls on.
func square(g light.Grid, x, y float64) (q int, ok bool) {
	fi, fj := g.Pixel(x, y)
	i, j := int(math.Floor(fi+0.5)), int(math.Floor(fj+0.5))
	return j*g.W + i, i >= 0 && j >= 0 && i < g.W && j < g.H
}
