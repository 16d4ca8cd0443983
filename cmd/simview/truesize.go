package main

import (
	"cmp"
	"fmt"
	"io"
	"math"

	"github.com/spf13/cobra"

	"simview/internal/light"
	"simview/internal/plot"
	"simview/internal/render"
)

// sizing holds the flags of the command truesize.
type sizing struct {
	pitch, card, step, bar float64
	out                    string
}

func trueSizeCommand() *cobra.Command {
	var k sizing
	c := &cobra.Command{
		Use:   "truesize",
		Short: "Say from how far away a picture has its true size",
		Long: `truesize prints the distance at which a picture on your screen is seen as large as
the scene would be, one sample of it to one pixel of the screen. Hold a bank card
against the screen and count the pixels of its long side (85.60 mm), or give the
distance between pixels. With --bar-mm it writes a bar to print and to measure.

A picture at its true size is seen through the viewer's own eye, which blurs it a
second time, and a screen shows neither glare nor night as bright as they are.`,
		Example: `  simview truesize --card-px 309
  simview truesize --pitch-mm 0.155 --step-arcmin 0.25
  simview truesize --pitch-mm 0.155 --bar-mm 100 -o bar.png`,
		Args: noCase,
		RunE: func(c *cobra.Command, _ []string) error {
			given := c.Flags().Changed
			pitch, err := k.screen(given("pitch-mm"), given("card-px"))
			if err != nil {
				return err
			}
			if err := k.barAsked(given("bar-mm"), given("out")); err != nil {
				return err
			}
			if err := k.print(c.OutOrStdout(), pitch, given("step-arcmin")); err != nil {
				return err
			}
			if !given("bar-mm") {
				return nil
			}
			return k.writeBar()
		},
	}
	f := c.Flags()
	f.Float64Var(&k.pitch, "pitch-mm", 0, "distance between the screen's pixels in `mm`, 0.02 to 10")
	f.Float64Var(&k.card, "card-px", 0, "how wide a bank card is on the screen, in `pixels`, 50 to 10000")
	f.Float64Var(&k.step, "step-arcmin", 0, "how large a sample of the picture is, in `minutes` of arc, 0.01 to 60 (default: those of the program's wide and magnified pictures)")
	f.Float64Var(&k.bar, "bar-mm", 0, "write a bar this long to print, in `mm`, 20 to 180")
	f.StringVarP(&k.out, "out", "o", "bar.png", "output `file` of the bar, .png; one that exists is replaced")
	return c
}

// sized is a kind of picture and the angle of its samples.
type sized struct {
	name string
	deg  float64
}

var (
	widePicture   = sized{"wide picture", render.WideStepDeg}
	windowPicture = sized{"magnified window alone", render.WindowStepDeg}
	sheetPicture  = sized{"panel on the sheet", render.SheetStepDeg}
)

// trueSizes prints how far from a screen each picture has its true size.
func trueSizes(w io.Writer, pitch float64, all ...sized) error {
	for _, s := range all {
		d, err := light.TrueDistanceMM(pitch, s.deg)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "%s, %.3g minutes of arc a sample: true size from %s\n", s.name, 60*s.deg, metres(d))
	}
	return nil
}

// onScreen holds the flags with which a command that makes pictures says how far away
// they have their true size.
type onScreen struct{ sizing }

func (k *onScreen) flags(c *cobra.Command) {
	c.Flags().Float64Var(&k.pitch, "pitch-mm", 0, "say how far from a screen with pixels so many `mm` apart the pictures have their true size, 0.02 to 10")
	c.Flags().Float64Var(&k.card, "card-px", 0, "the same for a screen on which a bank card is so many `pixels` wide, 50 to 10000")
}

// check refuses a screen that is none, before any work; 0 is no screen.
func (k *onScreen) check(c *cobra.Command) (pitch float64, err error) {
	p, card := c.Flags().Changed("pitch-mm"), c.Flags().Changed("card-px")
	if !p && !card {
		return 0, nil
	}
	return k.screen(p, card)
}

// say prints the distances for a screen; nothing for pitch 0.
func (k *onScreen) say(w io.Writer, pitch float64, all ...sized) error {
	if pitch == 0 {
		return nil
	}
	return trueSizes(w, pitch, all...)
}

// screen returns the pitch from whichever of the two was given.
func (k *sizing) screen(pitch, card bool) (float64, error) {
	switch {
	case pitch == card:
		return 0, usagef("--pitch-mm: give it or --card-px, one of the two; hint: a card of 309 pixels means 0.277 mm")
	case card:
		mm, err := light.PitchFromCard(k.card)
		if err != nil {
			return 0, usagef("--card-px: must be 50 to 10000 (got %g)", k.card)
		}
		return mm, nil
	case !within(k.pitch, 0.02, 10):
		return 0, usagef("--pitch-mm: must be 0.02 to 10 (got %g)", k.pitch)
	}
	return k.pitch, nil
}

func (k *sizing) barAsked(bar, out bool) error {
	switch {
	case out && !bar:
		return usagef("-o: no bar is asked for; hint: --bar-mm 100")
	case !bar:
		return nil
	case !within(k.bar, 20, 180):
		return usagef("--bar-mm: must be 20 to 180 (got %g)", k.bar)
	}
	return cmp.Or(endsIn(k.out, ".png"), fit(k.out))
}

// print lists the distances.
func (k *sizing) print(w io.Writer, pitch float64, stepGiven bool) error {
	all := []sized{widePicture, windowPicture}
	if stepGiven {
		if !within(k.step, 0.01, 60) {
			return usagef("--step-arcmin: must be 0.01 to 60 (got %g)", k.step)
		}
		all = []sized{{"picture", k.step / 60}}
	}
	fmt.Fprintf(w, "pixels %.4g mm apart\n", pitch)
	if err := trueSizes(w, pitch, all...); err != nil {
		return err
	}
	fmt.Fprintln(w, "Shown one sample to a pixel, without zoom; a picture on a sheet may be made smaller to fit.")
	fmt.Fprintln(w, "Measure the distance from eye to screen with a tape: 5 % wrong is 5 % of every size.")
	fmt.Fprintln(w, "The viewer's own eye blurs the picture a second time: view it with good glasses, in a bright room.")
	return nil
}

// metres writes a length in mm so that it can be measured out.
func metres(mm float64) string {
	if mm < 995 {
		return fmt.Sprintf("%.0f cm", mm/10)
	}
	return fmt.Sprintf("%.3g m", math.Round(mm/10)/100)
}

func (k *sizing) writeBar() error {
	m, err := plot.CheckBar(k.bar, fmt.Sprintf("Print at %d dots an inch, scaled to 100 %%. If a ruler shows another length, the pictures printed with it have another size too, and their distance changes in proportion.", plot.BarDPI))
	if err != nil {
		return err
	}
	return writeFile(k.out, func(w io.Writer) error { return light.WritePrintPNG(w, m, plot.BarDPI) })
}
