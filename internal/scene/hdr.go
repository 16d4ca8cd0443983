package scene

import (
	"fmt"
	"math"
	"strings"
	"sync"

	"simview/internal/light"
)

// Pictures is where a scene finds the stored pictures that it names.
type Pictures struct {
	Open func(file string) ([]byte, error) // a plain file name; nil: there are none
	// Sound says that the files are known to be whole: they are decoded when
	// first drawn, and a broken one then panics.
	Sound bool
}

// pictureShape lays a stored picture over a part of the scene.
type pictureShape struct {
	File string `yaml:"file"` // beside the scene's file
	At   xy     `yaml:"at"`   // lower left corner
	Size xy     `yaml:"size"` // width and height, degrees
}

// storedPicture is a picture that is decoded when it is needed.
type storedPicture struct {
	w, h   int
	decode func() (*light.Image, error)
}

// squareness is how far the two steps of a picture may differ: a sample in ten
// thousand.
const squareness = 1e-4

// loadPictures finds the pictures of all shapes and returns the line of a fault.
func (s *Scene) loadPictures(from Pictures) (line int, err error) {
	s.pictures = map[string]*storedPicture{}
	for _, part := range s.parts {
		for i := range part {
			if line := strayPicture(&part[i]); line > 0 {
				return line, errStray
			}
		}
	}
	for i := range s.shapes {
		sh := &s.shapes[i]
		if p := sh.Picture; p != nil {
			if err := s.load(p, from); err != nil {
				return sh.line, fmt.Errorf("picture %q: %w", p.File, err)
			}
		} else if line := strayPicture(sh); line > 0 {
			return line, errStray
		}
	}
	return 0, nil
}

var errStray = fmt.Errorf("picture: stands only among the scene's own shapes, not in a part or group")

// strayPicture returns the line of a picture in the shape or inside it, or 0.
func strayPicture(s *shape) int {
	if s.Picture != nil {
		return s.line
	}
	if s.Group != nil {
		for i := range s.Group.Shapes {
			if line := strayPicture(&s.Group.Shapes[i]); line > 0 {
				return line
			}
		}
	}
	return 0
}

func (s *Scene) load(p *pictureShape, from Pictures) error {
	if from.Open == nil {
		return fmt.Errorf("no folder is known to find it in")
	}
	data, err := from.Open(p.File)
	if err != nil {
		return err
	}
	w, h, err := storedSize(data)
	if err != nil {
		return err
	}
	if math.Abs(p.Size[0]/float64(w)/(p.Size[1]/float64(h))-1) > squareness {
		return fmt.Errorf("size: %g x %g degrees do not have the shape of its %d x %d samples", p.Size[0], p.Size[1], w, h)
	}
	one := &storedPicture{w, h, sync.OnceValues(func() (*light.Image, error) { return readPicture(data) })}
	s.pictures[p.File] = one
	if from.Sound {
		return nil
	}
	_, err = one.decode()
	return err
}

func (p *pictureShape) check() error {
	if p.File == "" || strings.ContainsAny(p.File, `/\`) || strings.Contains(p.File, "..") {
		return fmt.Errorf("file: must be the plain name of a stored picture beside the scene's file (got %q)", p.File)
	}
	return positive("size", p.Size[0], p.Size[1])
}

// pictureInk paints samples of a picture on the columns of one grid.
type pictureInk struct {
	img  *light.Image
	cols [][]share // of every column of the grid
	rows [][]share
}

// picture makes the mark of a stored picture.
func (m *marker) picture(p *pictureShape) {
	n := len(m.marks)
	dark := 0.0
	m.add(worldFrame, &paint{CdM2: &dark}, rectOutline(p.At, p.Size))
	if len(m.marks) == n {
		return
	}
	img, err := m.scene.pictures[p.File].decode()
	if err != nil {
		panic("scene: a stored picture that was said to be sound is broken: " + p.File + ": " + err.Error())
	}
	g, step := m.grid, p.Size[0]/float64(img.W)
	d := g.StepDeg / step
	m.marks[n].ink.picture = &pictureInk{
		img:  img,
		cols: shares((g.LeftDeg-p.At[0])/step-0.5, d, g.W, img.W),
		rows: shares((p.At[1]+p.Size[1]-g.TopDeg)/step-0.5, d, g.H, img.H),
	}
}

// pictureRow lays one row of a picture: each pixel takes the mean over its area.
func (p *painter) pictureRow(to *light.Image, k *pictureInk, cov []float32, j, ia int) {
	cols := k.cols[ia : ia+len(cov)]
	c0, c1 := reach(cols, k.img.W)
	if cap(p.line) < k.img.W {
		p.line = make([]float32, k.img.W)
	}
	line := p.line[:k.img.W]
	dst := to.Planes()
	for c, from := range k.img.Planes() {
		mixRows(line, from, k.img.W, c0, c1, k.rows[j])
		row := dst[c][j*to.W+ia:]
		for i, share := range cov {
			row[i] += share * (mixed(line, cols[i]) - row[i])
		}
	}
}

// reach returns the first sample that the shares use and the one past the last.
func reach(list [][]share, n int) (from, to int) {
	from = n
	for _, one := range list {
		for _, h := range one {
			from, to = min(from, h.at), max(to, h.at+1)
		}
	}
	return min(from, to), to
}
