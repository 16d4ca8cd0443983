// Command simview shows what each cause of an eye's bad vision would make the
// world look like, from the eye's own measurements. It works offline, on
// files, and is an illustration for discussion, not a diagnosis.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// usageError is a mistake in how the command was called; it exits with 2.
type usageError struct{ error }

// run executes one command line: 0 done, 1 failed, 2 called wrongly.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root := newRoot(stdout, stderr)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	switch {
	case err == nil:
		return 0
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "stopped; nothing half-written was left behind")
		return 1
	}
	fmt.Fprintln(stderr, "error: "+strings.TrimSpace(err.Error()))
	var usage usageError
	if errors.As(err, &usage) {
		fmt.Fprintln(stderr, "hint: simview --help lists commands and flags")
		return 2
	}
	return 1
}
