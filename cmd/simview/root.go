package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
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
		Version: version, SilenceUsage: true, SilenceErrors: true,
	}
	root.SetOut(stdout)
	root.SetErr(stderr)
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(compareCommand(), renderCommand(), inspectCommand(), psfCommand(), checkCommand(), scenesCommand(), causesCommand())
	for _, c := range root.Commands() {
		c.Args = usageArgs(c.Args)
	}
	return root
}

// usageArgs turns a refusal of arguments into a usage error.
func usageArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if check == nil {
			return nil
		}
		if err := check(c, args); err != nil {
			return usageError{fmt.Errorf("%s: %w (got %q)", c.Name(), err, strings.Join(args, " "))}
		}
		return nil
	}
}
