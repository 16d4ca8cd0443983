package explain

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"simview/internal/cause"
)

// Steps is about how often [Options.Tell] is called.
const Steps = 12

// width is that of the text, characters.
const width = 118

// Write prints the story as text that can be read aloud from top to bottom, about one
// screen; whole adds both lights, pairs, trials, what-ifs, quick tests and sources.
func (s *Story) Write(w io.Writer, whole bool) error {
	p := &printer{whole: whole}
	parts := []func(*printer){s.head, s.checks, s.reading, s.putRight, s.shareRows}
	if whole {
		parts = append(parts, s.pairRows, s.roomTable, s.whatIfTable, s.apartRows)
	}
	for _, part := range append(parts, s.fitRows, s.sureRows, s.sources) {
		part(p)
	}
	_, err := io.WriteString(w, p.b.String())
	return err
}

// printer gathers lines.
type printer struct {
	b     strings.Builder
	whole bool
}

func (p *printer) line(format string, a ...any) {
	p.b.WriteString(strings.TrimRight(fmt.Sprintf(format, a...), " ") + "\n")
}

// heading starts a section.
func (p *printer) heading(words, unit string) {
	p.line("")
	p.line("%s%*s", words, max(1, width-utf8.RuneCountInString(words)), unit)
}

// wrapped breaks a sentence into lines, the later ones indented.
func (p *printer) wrapped(first, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(first))
	row := first
	for _, word := range strings.Fields(text) {
		if utf8.RuneCountInString(row)+1+utf8.RuneCountInString(word) > width && strings.TrimSpace(row) != "" {
			p.line("%s", row)
			row = indent
		}
		if strings.TrimSpace(row) != "" && !strings.HasSuffix(row, " ") {
			row += " "
		}
		row += word
	}
	p.line("%s", row)
}

func (s *Story) head(p *printer) {
	p.line("%s EYE: %s", strings.ToUpper(s.Eye), s.Case)
	if s.Complaint != "" {
		p.wrapped("  ", "“"+s.Complaint+"”")
	}
	for _, n := range s.Notice {
		p.wrapped("  ", n)
	}
}

func (s *Story) checks(p *printer) {
	p.heading("BEFORE BELIEVING ANY OF THIS", "")
	var done []string
	for _, c := range s.Checks {
		switch {
		case !c.Done:
			p.line("  NOT DONE: %s", strings.ToUpper(c.Name))
		case c.Words != "":
			done = append(done, c.Name+" ("+c.Words+")")
		default:
			done = append(done, c.Name)
		}
	}
	if len(done) > 0 {
		p.wrapped("  done: ", strings.Join(done, "; "))
	}
}

// interval writes a number with both its intervals.
func (e Estimate) interval(digits int) string {
	return fmt.Sprintf("%+.*f (%+.*f %+.*f | %+.*f %+.*f)", digits, tidy(e.Value, digits), digits, tidy(e.Low, digits), digits, tidy(e.High, digits), digits, tidy(e.ModelLow, digits), digits, tidy(e.ModelHigh, digits))
}

// tidy takes the sign off what is written as zero.
func tidy(v float64, digits int) float64 {
	half := 0.5
	for range digits {
		half /= 10
	}
	if v > -half && v < half {
		return 0
	}
	return v
}

// digits of each measure.
var digits = [...]int{2, 2, 0}

// howToRead stands above the first number.
const howToRead = "Each number is followed by two ranges, each for 90 in 100: (measurement noise only | noise and model error). A value may stand near one end of its range: a loss cannot be less than none, and where the eye is near its best, any error makes it worse."

// notExplained names the gap between measured and expected.
const notExplained = "not explained by this case"

func (s *Story) reading(p *printer) {
	l := s.Lights[0]
	p.heading("WHAT IT READS, AND WHAT THIS CASE DOES NOT EXPLAIN", "logMAR, far, bright pupil")
	p.wrapped("  ", howToRead)
	p.line("  %-28s %-35s %s; with no cause %.2f", "expected, all causes", l.Sure[Letters].interval(2), l.Focus, l.Reference.LogMAR)
	u := s.Unexplained
	if !u.Known {
		p.line("  %-28s unknown: no measured acuity with glasses", notExplained)
		return
	}
	p.line("  %-28s %+.2f", "measured with glasses", u.Measured)
	p.line("  %-28s %-35s measured less expected", notExplained, u.Gap.interval(2))
	if u.Notice != "" {
		p.wrapped("  ! ", u.Notice)
	}
}

// column is one column of a table of causes.
type column struct {
	head string
	wide int
	cell func(c int) string
}

// labelWide is the column of labels in a table of causes.
const labelWide = 22

// causeTable prints one row a cause, after labels of that width.
func (s *Story) causeTable(p *printer, labels int, first string, columns []column) {
	p.row(labels, first, columns, func(c int) string { return columns[c].head })
	for i, cause := range s.Lights[0].Causes {
		p.row(labels, cause.Label, columns, func(c int) string { return columns[c].cell(i) })
	}
}

// row prints a label and a cell for each column.
func (p *printer) row(labels int, label string, columns []column, cell func(c int) string) {
	row := fmt.Sprintf("  %-*s", labels, label)
	for c, column := range columns {
		row += fmt.Sprintf(" %-*s", column.wide, cell(c))
	}
	p.line("%s", row)
}

// wide and narrow are the columns of numbers with two digits and with none.
const wide, narrow = 34, 25

// cell picks what to print of one cause in one light.
func (s *Story) cell(light int, m Measure, of func(c CauseRow) []Estimate) func(c int) string {
	return func(c int) string { return of(s.Lights[light].Causes[c])[m].interval(digits[m]) }
}

func sameOf(c CauseRow) []Estimate    { return c.Same }
func renewedOf(c CauseRow) []Estimate { return c.Renewed }
func shareOf(c CauseRow) []Estimate   { return c.Share }

func (s *Story) putRight(p *printer) {
	p.heading("WHAT CHANGES IF ONLY THIS IS PUT RIGHT", s.units("gained: logMAR"))
	for k := range s.shown(p) {
		same := s.cell(k, Letters, sameOf)
		columns := []column{
			{"letters, own glasses kept", wide, func(c int) string {
				if s.Lights[k].Causes[c].ID == cause.Cylinder {
					return "glasses are what puts it right"
				}
				return same(c)
			}},
			{"letters, new glasses both times", wide, s.cell(k, Letters, renewedOf)},
		}
		if s.Lights[k].Scene != "" {
			columns = append(columns, column{s.Lights[k].Scene + ", new glasses", narrow, s.cell(k, Scene, renewedOf)})
		}
		s.causeTable(p, labelWide, s.Lights[k].Name+" pupil", columns)
	}
}

// shown are the lights that a part of the story prints.
func (s *Story) shown(p *printer) []Light {
	if p.whole {
		return s.Lights
	}
	return s.Lights[:1]
}

func (s *Story) shareRows(p *printer) {
	p.heading("SHARE OF EACH CAUSE; a share is not what treatment would give back", s.units("lost: logMAR"))
	var columns []column
	var sums []string
	for k, l := range s.Lights {
		columns = append(columns, column{"letters, " + l.Name + " pupil", wide, s.cell(k, Letters, shareOf)})
		sums = append(sums, fmt.Sprintf("%+.2f", l.Now.LogMAR-l.Reference.LogMAR))
	}
	at := 1
	if s.Lights[at].Scene == "" {
		at = 0
	}
	if l := s.Lights[at]; l.Scene != "" {
		columns = append(columns, column{l.Scene, narrow, s.cell(at, Scene, shareOf)})
		sums = append(sums, fmt.Sprintf("%+.0f", l.Now.LostPercent))
	}
	labels := len(notExplained)
	s.causeTable(p, labels, "", columns)
	p.row(labels, "they add up to", columns, func(c int) string { return sums[c] })
	s.cancelling(p)
	gap := "unknown: no measured acuity with glasses"
	if u := s.Unexplained; u.Known {
		gap = u.Gap.interval(2)
	}
	p.line("  %-*s %s", labels, notExplained, gap)
	s.moreShares(p)
}

// moreShares are the shares that one screen has no room for.
func (s *Story) moreShares(p *printer) {
	if !p.whole {
		return
	}
	var columns []column
	for k, l := range s.Lights {
		columns = append(columns, column{"log contrast lost, " + l.Name + " pupil", wide, s.cell(k, Contrast, shareOf)})
	}
	if l := s.Lights[0]; l.Scene != "" && s.Lights[1].Scene != "" {
		columns = append(columns, column{l.Scene, narrow, s.cell(0, Scene, shareOf)})
	}
	s.causeTable(p, len(notExplained), "", columns)
}

// units adds those of a scene where there is one.
func (s *Story) units(words string) string {
	if s.Lights[0].Scene+s.Lights[1].Scene == "" {
		return words
	}
	return words + ", points of a scene"
}

// cancelling says which shares are below zero.
func (s *Story) cancelling(p *printer) {
	for _, l := range s.Lights {
		for _, c := range l.Causes {
			for _, m := range Measures {
				if tidy(c.Share[m].Value, digits[m]) < 0 {
					p.line("  %s, %s pupil: its share of %s is below zero: it partly cancels the others.", c.Label, l.Name, [...]string{"letters", "contrast", "the scene"}[m])
				}
			}
		}
	}
}

func (s *Story) pairRows(p *printer) {
	for _, l := range s.Lights {
		p.heading("TWO TOGETHER, beyond what each does by itself, "+l.Name+" pupil", s.units("logMAR, log contrast"))
		for _, r := range l.Pairs {
			row := fmt.Sprintf("  %-28s %+.2f  %+.2f", r.A+" and "+r.B, tidy(r.Extra[Letters], 2), tidy(r.Extra[Contrast], 2))
			if l.Scene != "" {
				row += fmt.Sprintf("  %+.0f", tidy(r.Extra[Scene], 0))
			}
			p.line("%s", row)
		}
	}
}
