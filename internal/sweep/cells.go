package sweep

import (
	"hash/crc32"
	"strconv"
	"strings"
)

// Cell is one picture of a grid.
type Cell struct {
	File      string     `json:"file"`
	Scene     string     `json:"scene"`
	Eye       string     `json:"eye"`
	PupilMM   float64    `json:"pupil_mm,omitempty"` // 0: that of the case
	Trial     string     `json:"trial,omitempty"`    // "": none
	Strengths []Strength `json:"strengths,omitempty"`
	GazeDeg   Gaze       `json:"gaze_deg"`
}

// Strength is how much of one cause a picture has.
type Strength struct {
	Cause string  `json:"cause"`
	K     float64 `json:"k"`
}

// Cells lists the pictures of a grid that was checked, in its order: scenes are the
// outermost axis, then eyes, pupils, trials, severities and, innermost, gazes, so
// that neighbours share most of the work.
func (a Axes) Cells() []Cell {
	cells := []Cell{{}}
	cells = across(cells, a.Scenes, func(c *Cell, v string) { c.Scene = v })
	cells = across(cells, a.Eyes, func(c *Cell, v string) { c.Eye = v })
	if len(a.PupilsMM) > 0 {
		cells = across(cells, a.PupilsMM, func(c *Cell, v float64) { c.PupilMM = v })
	}
	if len(a.Trials) > 0 {
		cells = across(cells, a.Trials, func(c *Cell, v string) {
			if v != None {
				c.Trial = v
			}
		})
	}
	for _, s := range a.Severities {
		cells = across(cells, s.Strengths, func(c *Cell, v float64) {
			c.Strengths = append(c.Strengths[:len(c.Strengths):len(c.Strengths)], Strength{s.Cause, v})
		})
	}
	cells = across(cells, a.GazesDeg, func(c *Cell, v Gaze) { c.GazeDeg = v })
	for i := range cells {
		cells[i].File = cells[i].name()
	}
	return cells
}

// across makes every cell once for each value of one more axis.
func across[T any](cells []Cell, values []T, set func(*Cell, T)) []Cell {
	out := make([]Cell, 0, len(cells)*len(values))
	for _, c := range cells {
		for _, v := range values {
			one := c
			set(&one, v)
			out = append(out, one)
		}
	}
	return out
}

// name is a file name that depends on nothing but the cell, so that a grid that is
// widened keeps its pictures.
func (c Cell) name() string {
	parts := []string{plain(c.Scene), c.Eye}
	if c.PupilMM > 0 {
		parts = append(parts, "pupil"+number(c.PupilMM))
	}
	if c.Trial != "" {
		parts = append(parts, plain(c.Trial))
	}
	for _, s := range c.Strengths {
		parts = append(parts, plain(s.Cause)+number(s.K))
	}
	parts = append(parts, "gaze"+number(c.GazeDeg[0])+"_"+number(c.GazeDeg[1]))
	return strings.Join(parts, "_") + ".png"
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// plain makes a word fit for a file name anywhere: what is no letter, digit, point
// or hyphen becomes a hyphen, and then, or when it is long, a check sum tells it
// from its like.
func plain(word string) string {
	const longest = 48
	fit := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '.' || r == '-' {
			return r
		}
		return '-'
	}, word)
	if fit == word && len(word) <= longest {
		return word
	}
	sum := strconv.FormatUint(uint64(crc32.ChecksumIEEE([]byte(word))), 16)
	return fit[:min(len(fit), longest)] + "-" + sum
}

// SameState reports whether two pictures show one eye in one state before one
// scene, so that they differ in gaze at most.
func (c Cell) SameState(d Cell) bool {
	c.GazeDeg, d.GazeDeg = Gaze{}, Gaze{}
	return c.name() == d.name()
}

// Groups cuts pictures where scene or state change.
func Groups(cells []Cell) (groups [][]Cell) {
	for from := 0; from < len(cells); {
		to := from + 1
		for to < len(cells) && cells[to].SameState(cells[from]) {
			to++
		}
		groups = append(groups, cells[from:to])
		from = to
	}
	return groups
}

// Left returns the pictures that are not there yet, in order.
func Left(cells []Cell, there func(file string) bool) (left []Cell) {
	for _, c := range cells {
		if !there(c.File) {
			left = append(left, c)
		}
	}
	return left
}
