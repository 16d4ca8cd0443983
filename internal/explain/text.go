package explain

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Steps is about how often [Options.Tell] is called.
const Steps = 22

// width is that of the text, characters.
const width = 110

// Write prints the story as text that can be read aloud from top to bottom; whole
// adds both lights, pairs and sources.
func (s *Story) Write(w io.Writer, whole bool) error {
	p := &printer{whole: whole}
	for _, part := range []func(*printer){
		s.head, s.checks, s.reading, s.putRight, s.shareRows, s.pairRows, s.roomTable, s.whatIfTable, s.apartRows, s.fitRows, s.sureRows, s.sources,
	} {
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

const howSure = "value (90 % from measurement noise only | 90 % with model error)"

func (s *Story) reading(p *printer) {
	l := s.Lights[0]
	p.heading("WHAT IT READS, AND WHAT IS NOT EXPLAINED", howSure+"; logMAR")
	p.line("  expected with all causes   %s  bright pupil %.1f mm, %s; with none of them %+.2f", l.Sure[Letters].interval(2), l.PupilMM, l.Focus, l.Reference.LogMAR)
	u := s.Unexplained
	if !u.Known {
		p.line("  not explained by this case unknown: no measured acuity with glasses")
		return
	}
	p.line("  measured with glasses      %+.2f", u.Measured)
	p.line("  not explained by this case %s  measured less expected", u.Gap.interval(2))
	if u.Notice != "" {
		p.wrapped("  ! ", u.Notice)
	}
}

// shown are the lights that a part of the story prints.
func (s *Story) shown(p *printer) []Light {
	if p.whole {
		return s.Lights
	}
	return s.Lights[:1]
}

func (s *Story) putRight(p *printer) {
	for _, l := range s.shown(p) {
		p.heading("WHAT CHANGES IF ONLY THIS IS PUT RIGHT, "+l.Name+" pupil", howSure+"; logMAR gained")
		p.line("  %-28s %-38s %-38s", "", "own glasses kept", "new glasses before and after")
		for _, c := range l.Causes {
			p.line("  %-28s %-38s %-38s", c.Label, c.Same[Letters].interval(2), c.Renewed[Letters].interval(2))
		}
	}
}

func (s *Story) shareRows(p *printer) {
	p.heading("SHARE OF EACH CAUSE; a share is not what treatment would give back", howSure)
	for _, l := range s.Lights {
		second := Contrast
		p.line("  %-28s %-38s %-38s", l.Name+fmt.Sprintf(" pupil %.1f mm", l.PupilMM), "letters, logMAR lost", "contrast sensitivity, log lost")
		for _, c := range l.Causes {
			p.line("  %-28s %-38s %-38s%s", c.Label, c.Share[Letters].interval(2), c.Share[second].interval(2), cancels(c, p.whole))
		}
		d := l.Now.LogMAR - l.Reference.LogMAR
		p.line("  %-28s %-38s %-38s", "all together, they add up to", fmt.Sprintf("%+.2f", d), fmt.Sprintf("%+.2f", l.Reference.LogCS-l.Now.LogCS))
	}
	if u := s.Unexplained; u.Known {
		p.line("  %-28s %-38s", "not explained by this case", u.Gap.interval(2)+", bright pupil")
	} else {
		p.line("  %-28s %s", "not explained by this case", "unknown: no measured acuity with glasses")
	}
}

// cancels says which shares are below zero.
func cancels(c CauseRow, whole bool) string {
	var in []string
	for _, m := range Measures {
		if tidy(c.Share[m].Value, digits[m]) < 0 {
			in = append(in, [...]string{"letters", "contrast", "scene"}[m])
		}
	}
	if len(in) == 0 {
		return ""
	}
	return " partly cancels (" + strings.Join(in, ", ") + ")"
}

func (s *Story) pairRows(p *printer) {
	if !p.whole {
		return
	}
	for _, l := range s.Lights {
		p.heading("TWO TOGETHER, beyond what each does by itself, "+l.Name+" pupil", "letters logMAR, contrast log")
		for _, r := range l.Pairs {
			p.line("  %-28s %+.2f  %+.2f", r.A+" and "+r.B, tidy(r.Extra[Letters], 2), tidy(r.Extra[Contrast], 2))
		}
	}
}
