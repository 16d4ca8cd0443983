package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// version is the program's version, also written into records.
const version = "0.1.0-dev"

func newRoot(stdout, stderr io.Writer) *cobra.Command {
	root := &cobra.Command{
		Use:   "simview",
		Short: "Show what each cause of an eye's bad vision would make the world look like",
		Long: `simview reads a case (one or two eyes with their measurements), works out each
candidate cause of the complaint, and makes the same scene as each of them alone
and all together would show it.

Pictures are illustrations for discussion, not a diagnosis. Sudden loss of
sight, flashes, a curtain, eye pain or new double vision need care the same day.`,
		Example: `  simview compare                     the built-in demo case
  simview compare case.yaml -o out    a case of your own
  simview check case.yaml             what was understood, what is assumed
  simview inspect case.yaml --json    every number`,
		Version: version, SilenceUsage: true, SilenceErrors: true, SuggestionsMinimumDistance: 2,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return c.Help()
			}
			return unknownCommand(c, args[0])
		},
	}
	root.SetOut(stdout)
	root.SetErr(stderr)
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{flagError(err)} })
	root.AddCommand(compareCommand(), renderCommand(), fieldCommand(), inspectCommand(), psfCommand(), blinkCommand(), lightCommand(), eyeCommand(), checkCommand(), sceneCommand(), scenesCommand(), causesCommand(), trueSizeCommand())
	root.AddCommand(trialsCommand(), explainCommand(), serveCommand(), sweepCommand())
	return root
}

func unknownCommand(c *cobra.Command, name string) error {
	hint := "`simview --help` lists the commands"
	if near := c.SuggestionsFor(name); len(near) > 0 {
		hint = "did you mean `simview " + strings.Join(near, "` or `simview ") + "`?"
	}
	return usagef("unknown command %q; hint: %s", name, hint)
}

// oneCase refuses more than one argument.
func oneCase(_ *cobra.Command, args []string) error {
	if len(args) > 1 {
		return usagef("one case at most may be named (got %q)", strings.Join(args, " "))
	}
	return nil
}

// thisCase wants exactly one argument.
func thisCase(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return usagef("%s: name a case file, as in `simview %s case.yaml`", c.Name(), c.Name())
	}
	return oneCase(c, args)
}

func noCase(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return usagef("%s: takes no case (got %q)", c.Name(), strings.Join(args, " "))
	}
	return nil
}

// kinds says what a flag expects, by the type of its value.
var kinds = map[string]string{
	"float64": "a number, as in 2.5", "float64Slice": "numbers with a comma between them, as in 3,6",
	"stringSlice": "words with a comma between them", "int": "a whole number, as in 3", "uint64": "a whole number, 0 or more", "bool": "true or false",
}

// flagError puts the flag first and says what it expects.
func flagError(err error) error {
	var invalid *pflag.InvalidValueError
	var missing *pflag.ValueRequiredError
	switch {
	case errors.As(err, &invalid):
		return fmt.Errorf("--%s: must be %s (got %q)", invalid.GetFlag().Name, kinds[invalid.GetFlag().Value.Type()], invalid.GetValue())
	case errors.As(err, &missing):
		return fmt.Errorf("--%s: a value must follow", missing.GetFlag().Name)
	}
	return err
}
