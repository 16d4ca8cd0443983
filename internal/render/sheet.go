package render

import (
	"image"
	"image/color"
	"image/draw"
)

// Row is one scene of a sheet with its panels, the reference view first.
type Row struct {
	Heading string // scene, distance, light, tone
	Panels  []Panel
}

// Sheet is several views side by side with what must be said beside them.
type Sheet struct {
	Title  string
	Sub    string   // whose eye, invented or not
	Urgent string   // what must be read first; "" where nothing must
	Rows   []Row    // one a scene
	Checks []Check  // before believing any picture
	Foot   []string // assumptions, limits, urgent signs: a paragraph each
}

// Check is one of the checks before believing any picture.
type Check struct {
	Name string
	Done bool
	Note string
}

const (
	columns = 4
	margin  = 36
	gutter  = 24
)

var (
	titleStyle = style{Bold: true, PX: 52}
	headStyle  = style{Bold: true, PX: 36}
	nameStyle  = style{Bold: true, PX: 32}
	textStyle  = style{PX: 24}
)

// Draw lays the sheet out: a title, then for each scene a heading and its
// panels in rows of four, then the checks and the foot. Text too long for its
// place goes on in the next line; none is cut.
func (s Sheet) Draw() *image.NRGBA {
	size := s.panelSize()
	width := columns*size.X + (columns-1)*gutter
	top := s.title(width)
	end := s.end(width)
	height := 2*margin + top.height() + end.height()
	for _, r := range s.Rows {
		height += r.height(size, width)
	}
	dst := image.NewNRGBA(image.Rect(0, 0, width+2*margin, height))
	draw.Draw(dst, dst.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	y := top.draw(dst, margin, margin)
	for _, r := range s.Rows {
		y = r.draw(dst, y, size, width)
	}
	end.draw(dst, margin, y)
	return dst
}

func (s Sheet) panelSize() image.Point {
	var p image.Point
	for _, r := range s.Rows {
		for _, q := range r.Panels {
			p.X, p.Y = max(p.X, q.Pic.Rect.Dx()), max(p.Y, q.Pic.Rect.Dy())
		}
	}
	return p
}

func (s Sheet) title(width int) block {
	var b block
	if s.Urgent != "" {
		b = append(paragraph(headStyle, loud, s.Urgent, width), space(16))
	}
	b = append(b, paragraph(titleStyle, ink, s.Title, width)...)
	return append(b, paragraph(textStyle, soft, s.Sub, width)...)
}

// end is what stands below the pictures.
func (s Sheet) end(width int) block {
	b := block{space(30)}
	if len(s.Checks) > 0 {
		b = append(b, paragraph(headStyle, ink, "Before believing any picture", width)...)
		b = append(b, s.checks(width)...)
	}
	b = append(b, space(16))
	for _, t := range s.Foot {
		b = append(b, paragraph(textStyle, ink, t, width)...)
	}
	return b
}

// checks sets the checks one after the other, as many in a line as fit.
func (s Sheet) checks(width int) block {
	const between = 36
	b := block{{}}
	x := 0
	for _, c := range s.Checks {
		text, col := c.Name+": done", color.Color(ink)
		if !c.Done {
			text, col = c.Name+": NOT DONE", loud
		}
		if c.Note != "" {
			text += " (" + c.Note + ")"
		}
		if x > 0 && x+textStyle.Width(text) > width {
			b, x = append(b, textLine{}), 0
		}
		for k, t := range textStyle.Wrap(text, width) {
			if k > 0 {
				b, x = append(b, textLine{}), 0
			}
			last := &b[len(b)-1]
			*last = append(*last, run{textStyle, col, x, t})
			x += textStyle.Width(t) + between
		}
	}
	return b
}

func lines(panels int) int { return (panels + columns - 1) / columns }

func (r Row) heading(width int) block {
	return append(block{space(8)}, paragraph(headStyle, ink, r.Heading, width)...)
}

// captionHeight is that of the longest caption.
func (r Row) captionHeight(width int) (h int) {
	for _, p := range r.Panels {
		h = max(h, p.caption(width).height())
	}
	return h
}

const underPanel = 16 // pixels between a picture and the next caption

func (r Row) height(size image.Point, width int) int {
	return r.heading(width).height() + lines(len(r.Panels))*(r.captionHeight(size.X)+size.Y+underPanel)
}

func (r Row) draw(dst *image.NRGBA, y int, size image.Point, width int) int {
	y = r.heading(width).draw(dst, margin, y)
	caption := r.captionHeight(size.X)
	for k, p := range r.Panels {
		x := margin + k%columns*(size.X+gutter)
		top := y + k/columns*(caption+size.Y+underPanel)
		p.caption(size.X).draw(dst, x, top)
		draw.Draw(dst, p.Pic.Rect.Sub(p.Pic.Rect.Min).Add(image.Pt(x, top+caption)), p.Pic, p.Pic.Rect.Min, draw.Src)
	}
	return y + lines(len(r.Panels))*(caption+size.Y+underPanel)
}

// caption is the text above a panel. That nothing shows is said beside the
// name, or below it where there is no room.
func (p Panel) caption(width int) block {
	b := paragraph(nameStyle, ink, p.Name, width)
	if p.Hidden {
		const text = "not visible here"
		last := &b[len(b)-1]
		if at := (*last)[0].width() + 18; at+textStyle.Width(text) <= width {
			*last = append(*last, run{textStyle, loud, at, text})
		} else {
			b = append(b, paragraph(textStyle, loud, text, width)...)
		}
	}
	b = append(b, paragraph(textStyle, soft, p.Amount, width)...)
	return append(b, paragraph(textStyle, soft, p.Notes, width)...)
}
