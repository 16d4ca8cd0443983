package scene

import (
	"math"
	"math/rand/v2"

	"golang.org/x/image/font/sfnt"

	"simview/internal/light"
)

// mark is a shape ready to be painted: outlines in degrees and its ink.
type mark struct {
	outlines       [][]pt
	x0, y0, x1, y1 float64 // extent in degrees
	ink            *ink
}

// marker turns shapes into marks for one grid, leaving out what cannot be seen.
type marker struct {
	scene          *Scene
	tol            float64 // degrees a curve may be off
	x0, y0, x1, y1 float64 // extent of the grid
	marks          []mark
	grid           light.Grid
	buf            sfnt.Buffer
}

// chordsPerStep is how much nearer than a pixel chords stay to their curve: an
// edge is then off by at most 1 % of a pixel.
const chordsPerStep = 100

func (s *Scene) marksOn(g light.Grid) []mark {
	m := &marker{
		scene: s, tol: g.StepDeg / chordsPerStep, grid: g,
		x0: g.LeftDeg, x1: g.LeftDeg + float64(g.W)*g.StepDeg,
		y0: g.TopDeg - float64(g.H)*g.StepDeg, y1: g.TopDeg,
	}
	m.list(s.shapes, worldFrame)
	return m.marks
}

func (m *marker) list(shapes []shape, f frame) {
	for i := range shapes {
		m.shape(&shapes[i], f)
	}
}

func (m *marker) shape(s *shape, f frame) {
	switch {
	case s.Rect != nil:
		m.add(f, &s.Rect.Paint, rectOutline(s.Rect.At, s.Rect.Size))
	case s.Polygon != nil:
		p := points(s.Polygon.Points)
		if s.Polygon.Smooth {
			p = smooth(p, true)
		}
		m.add(f, &s.Polygon.Paint, p)
	case s.Ellipse != nil:
		m.ellipse(s.Ellipse, f)
	case s.Line != nil:
		l := s.Line
		p := points(l.Points)
		if l.Smooth {
			p = smooth(p, l.Closed)
		}
		m.add(f, &l.Paint, stroke(p, l.Width, l.Closed)...)
	case s.Text != nil:
		m.text(s.Text, f)
	case s.Letters != nil:
		m.letters(s.Letters, f)
	case s.Glitter != nil:
		m.glitter(s.Glitter, f)
	case s.Scatter != nil:
		m.scatter(s.Scatter, f)
	case s.Picture != nil:
		m.picture(s.Picture)
	case s.Group != nil:
		m.list(s.Group.Shapes, f.placed(s.Group.Placing, s.Group.Placing.At))
	case s.Use != nil:
		m.use(s.Use, f)
	}
}

// add makes one mark of outlines in local units.
func (m *marker) add(f frame, p *paint, local ...[]pt) {
	k := mark{x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1)}
	for _, l := range local {
		o := f.outline(l)
		if len(o) < 3 {
			continue
		}
		for _, q := range o {
			k.x0, k.x1 = min(k.x0, q.x), max(k.x1, q.x)
			k.y0, k.y1 = min(k.y0, q.y), max(k.y1, q.y)
		}
		k.outlines = append(k.outlines, o)
	}
	if k.x1 <= m.x0 || k.x0 >= m.x1 || k.y1 <= m.y0 || k.y0 >= m.y1 {
		return
	}
	k.ink = p.ink(f)
	m.marks = append(m.marks, k)
}

func (m *marker) ellipse(e *ellipseShape, f frame) {
	tol := m.tol / f.degreesPerUnit(pt{e.At[0], e.At[1]})
	c := pt{e.At[0], e.At[1]}
	n := len(m.marks)
	m.add(f, &e.Paint, arc(nil, c, e.Radius[0], e.Radius[1], 0, 2*math.Pi, tol))
	if e.Paint.Soft && len(m.marks) > n {
		q := f.local(c)
		m.marks[n].ink.soft = &softEdge{q.x, q.y, e.Radius[0] * math.Abs(f.sx), e.Radius[1] * math.Abs(f.sy)}
	}
}

func (m *marker) use(u *useShape, f frame) {
	for row := range max(u.Rows, 1) {
		for i := range max(u.Count, 1) {
			fi, fr := float64(i), float64(row)
			p := u.Placing
			at := xy{u.Placing.At[0] + fi*u.Step[0] + fr*u.RowStep[0], u.Placing.At[1] + fi*u.Step[1] + fr*u.RowStep[1]}
			if p.Plane != nil {
				moved := *p.Plane
				for k := range moved.Origin {
					moved.Origin[k] += fi * u.StepM[k]
				}
				p.Plane = &moved
			}
			m.list(m.scene.parts[u.Part], f.placed(p, at))
		}
	}
}

func (m *marker) text(t *textShape, f frame) {
	face, size := t.face()
	tol := m.tol / (size * f.degreesPerUnit(pt{t.At[0], t.At[1]}))
	for i, line := range t.Lines {
		x := t.At[0]
		switch t.Align {
		case "center":
			x -= face.width(line) * size / 2
		case "right":
			x -= face.width(line) * size
		}
		y := t.At[1] - float64(i)*t.leading()*size*face.xHeight
		for _, r := range line {
			glyph, adv := face.glyph(&m.buf, r, tol)
			if len(glyph) > 0 {
				m.add(f, &t.Paint, moved(glyph, size, x, y)...)
			}
			x += adv * size
		}
	}
}

// face returns the typeface and the em in local units.
func (t *textShape) face() (*typeface, float64) {
	name := t.Font
	if name == "" {
		name = "regular"
	}
	face := typefaces()[name]
	x := t.XHeight
	if t.LogMAR != nil {
		x = LetterArcmin(*t.LogMAR) / 60
	}
	return face, x / face.xHeight
}

func (t *textShape) leading() float64 {
	if t.Leading == 0 {
		return 2.3
	}
	return t.Leading
}

func (m *marker) letters(l *lettersShape, f frame) {
	h := LetterArcmin(l.LogMAR) / 60
	gap := l.Gap
	if gap == 0 {
		gap = 1
	}
	row := []rune(l.Letters)
	width := h * (float64(len(row)) + gap*float64(len(row)-1))
	tol := 5 * m.tol / h / f.degreesPerUnit(pt{l.At[0], l.At[1]})
	for i, r := range row {
		outline, err := letterOutline(r, tol)
		if err != nil {
			continue // refused on reading
		}
		x := l.At[0] - width/2 + float64(i)*h*(1+gap)
		m.add(f, &l.Paint, moved(outline, h/5, x, l.At[1]-h/2)...)
	}
}

// glitter scatters flat ellipses down a streak, thinner and farther apart
// towards the bottom.
func (m *marker) glitter(g *glitterShape, f frame) {
	r := rand.New(rand.NewPCG(uint64(g.Seed), 0x6a09e667f3bcc909))
	var all [][]pt
	for i := range g.Count {
		t := (float64(i) + r.Float64()) / float64(g.Count)
		t = t * (0.35 + 0.65*t)
		w := g.Width[0] + t*(g.Width[1]-g.Width[0])
		c := pt{g.At[0] + (r.Float64()-0.5)*w*0.8, g.At[1] - t*g.Length}
		rx := w * (0.15 + 0.35*r.Float64()) * (1 - 0.35*t)
		ry := min(rx, g.Length/float64(g.Count)*(0.25+0.5*t))
		all = append(all, arc(nil, c, rx, ry, 0, 2*math.Pi, m.tol))
	}
	m.add(f, &g.Paint, all...)
}

func rectOutline(at, size xy) []pt {
	x0, y0, x1, y1 := at[0], at[1], at[0]+size[0], at[1]+size[1]
	return []pt{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

func points(list []xy) []pt {
	out := make([]pt, len(list))
	for i, p := range list {
		out[i] = pt{p[0], p[1]}
	}
	return out
}

func moved(outlines [][]pt, scale, x, y float64) [][]pt {
	for i, o := range outlines {
		m := make([]pt, len(o))
		for k, p := range o {
			m[k] = pt{x + p.x*scale, y + p.y*scale}
		}
		outlines[i] = m
	}
	return outlines
}
