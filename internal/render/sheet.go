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
	columns  = 4
	margin   = 36
	gutter   = 24
	captionH = 118
	headingH = 74
)

var (
	titleStyle = style{bold: true, px: 52}
	headStyle  = style{bold: true, px: 36}
	nameStyle  = style{bold: true, px: 32}
	textStyle  = style{px: 24}
)

// Draw lays the sheet out: a title, then for each scene a heading and its
// panels in rows of four, then the checks and the foot.
func (s Sheet) Draw() *image.NRGBA {
	size := s.panelSize()
	width := 2*margin + columns*size.X + (columns-1)*gutter
	foot := s.footLines(width - 2*margin)
	height := margin + 130 + len(foot)*32 + 110 + margin
	for _, r := range s.Rows {
		height += headingH + lines(len(r.Panels))*(size.Y+captionH)
	}
	dst := image.NewNRGBA(image.Rect(0, 0, width, height))
	draw.Draw(dst, dst.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	y := s.drawTitle(dst)
	for _, r := range s.Rows {
		y = r.draw(dst, y, size)
	}
	y = s.drawChecks(dst, y+10)
	for _, t := range foot {
		y += 32
		write(dst, textStyle, ink, margin, y, t)
	}
	return dst
}

func lines(panels int) int { return (panels + columns - 1) / columns }

func (s Sheet) panelSize() image.Point {
	var p image.Point
	for _, r := range s.Rows {
		for _, q := range r.Panels {
			p.X, p.Y = max(p.X, q.Pic.Rect.Dx()), max(p.Y, q.Pic.Rect.Dy())
		}
	}
	return p
}

func (s Sheet) drawTitle(dst *image.NRGBA) int {
	y := margin + 48
	write(dst, titleStyle, ink, margin, y, s.Title)
	y += 46
	write(dst, textStyle, soft, margin, y, s.Sub)
	return y + 24
}

func (r Row) draw(dst *image.NRGBA, y int, size image.Point) int {
	write(dst, headStyle, ink, margin, y+48, r.Heading)
	y += headingH
	for k, p := range r.Panels {
		x := margin + k%columns*(size.X+gutter)
		top := y + k/columns*(size.Y+captionH)
		p.draw(dst, x, top, size.X)
	}
	return y + lines(len(r.Panels))*(size.Y+captionH)
}

func (p Panel) draw(dst *image.NRGBA, x, y, width int) {
	write(dst, nameStyle, ink, x, y+32, p.Name)
	if p.Hidden {
		from := x + nameStyle.width(p.Name) + 18
		write(dst, textStyle, loud, from, y+32, "not visible here")
	}
	write(dst, textStyle, soft, x, y+62, fit(p.Amount, width))
	write(dst, textStyle, soft, x, y+90, fit(p.Notes, width))
	draw.Draw(dst, p.Pic.Rect.Add(image.Pt(x, y+102)), p.Pic, image.Point{}, draw.Src)
}

// fit shortens a caption that would run into its neighbour.
func fit(text string, width int) string {
	if textStyle.width(text) <= width {
		return text
	}
	return textStyle.wrap(text, width-textStyle.width(" ..."))[0] + " ..."
}

func (s Sheet) drawChecks(dst *image.NRGBA, y int) int {
	y += 36
	write(dst, headStyle, ink, margin, y, "Before believing any picture")
	x := margin + headStyle.width("Before believing any picture") + 36
	for _, c := range s.Checks {
		text, col := c.Name+": done", color.Color(ink)
		if !c.Done {
			text, col = c.Name+": NOT DONE", loud
		}
		if c.Note != "" {
			text += " (" + c.Note + ")"
		}
		if x+textStyle.width(text) > dst.Rect.Dx()-margin {
			x, y = margin, y+34
		}
		write(dst, textStyle, col, x, y, text)
		x += textStyle.width(text) + 36
	}
	return y + 16
}

func (s Sheet) footLines(width int) []string {
	var all []string
	for _, t := range s.Foot {
		all = append(all, textStyle.wrap(t, width)...)
	}
	return all
}
