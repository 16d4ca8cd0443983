package plot

import (
	"fmt"
	"image"
)

// Key names a colour and a kind of line of a [LightPage].
type Key struct {
	Name string
	Ink  int
	Dash float64
}

// LightPage is a page of diagrams of how one eye spreads light.
type LightPage struct {
	Title  string
	Words  []string // what is drawn: pupil, focus, amounts
	Keys   []Key    // of all diagrams together
	Graphs []Graph  // 1 to 4, two to a row
	Notes  []string // limits, at the foot
}

// Size of a diagram with its title and axes, pixels.
const (
	graphWidth  = (pageWidth - 2*margin - gap) / 2
	graphHeight = 560
	keySample   = 44
)

// Draw draws the page. One without diagrams or with more than four, or a diagram
// that cannot be drawn, is an error.
func (p *LightPage) Draw() (*image.NRGBA, error) {
	c, err := p.draw()
	if err != nil {
		return nil, err
	}
	return c.img, nil
}

func (p *LightPage) draw() (*canvas, error) {
	if len(p.Graphs) < 1 || len(p.Graphs) > 4 {
		return nil, fmt.Errorf("page: needs 1 to 4 diagrams (got %d)", len(p.Graphs))
	}
	for i := range p.Graphs {
		if err := p.Graphs[i].check(); err != nil {
			return nil, err
		}
	}
	for _, k := range p.Keys {
		if k.Ink < 0 || k.Ink >= len(inks) {
			return nil, fmt.Errorf("page: the key %q has no colour %d", k.Name, k.Ink)
		}
	}
	words, notes := lines(p.Words), lines(p.Notes)
	keys := p.keyRows()
	rows := (len(p.Graphs) + 1) / 2
	height := 2*margin + 44 + (len(words)+len(notes))*lineHeight + len(keys)*30 + 3*gap + rows*graphHeight
	var s sheet
	s.begin(height, p.Title, words)
	s.y += gap / 2
	for _, row := range keys {
		s.y += 30
		drawKeys(s.c, s.y, row)
	}
	s.y += gap
	for i := range p.Graphs {
		x, y := margin+i%2*(graphWidth+gap), s.y+i/2*graphHeight
		p.Graphs[i].draw(s.c, image.Rect(x, y, x+graphWidth, y+graphHeight))
	}
	s.y += rows * graphHeight
	s.text(notes, soft)
	return s.c, nil
}

// keyRows breaks the keys into rows no wider than the page.
func (p *LightPage) keyRows() (rows [][]Key) {
	width := pageWidth
	for _, k := range p.Keys {
		w := keyWidth(k)
		if width+w > pageWidth-2*margin {
			rows, width = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], k)
		width += w
	}
	return rows
}

func keyWidth(k Key) int { return keySample + 10 + plain.Width(k.Name) + 36 }

func drawKeys(c *canvas, y int, row []Key) {
	x := margin
	for _, k := range row {
		line := []pixel{{float64(x), float64(y - 6)}, {float64(x + keySample), float64(y - 6)}}
		if k.Dash > 0 {
			c.dash(inks[k.Ink], 3, k.Dash, k.Dash, line)
		} else {
			c.stroke(inks[k.Ink], 3.5, line)
		}
		c.write(plain, ink, x+keySample+10, y, k.Name)
		x += keyWidth(k)
	}
}
