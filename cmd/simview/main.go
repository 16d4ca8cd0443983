package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
)

// memoryLimit makes the collector work harder before a sheet takes a gibibyte;
// it costs no measurable time. GOMEMLIMIT overrides it.
const memoryLimit = 850 << 20

func main() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryLimit)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// usageError is a mistake in how the command was called; it exits with 2.
type usageError struct{ error }

func (u usageError) Unwrap() error { return u.error }

// usagef makes a usage error.
func usagef(format string, a ...any) error { return usageError{fmt.Errorf(format, a...)} }

// run executes one command line: 0 done, 1 failed, 2 called wrongly.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	out := &checked{to: stdout}
	root := newRoot(out, stderr)
	root.SetArgs(append([]string{}, args...)) // with nil, cobra would take the program's own
	c, err := root.ExecuteContextC(ctx)
	if lost := out.failed(); lost != nil {
		err = lost
	}
	switch {
	case err == nil:
		return 0
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "stopped; nothing half-written was left behind")
		return 1
	}
	text := strings.TrimSpace(err.Error())
	fmt.Fprintln(stderr, "error: "+text)
	var usage usageError
	if !errors.As(err, &usage) {
		return 1
	}
	if !strings.Contains(text, "hint: ") {
		fmt.Fprintf(stderr, "hint: %s --help\n", c.CommandPath())
	}
	return 2
}

// checked remembers the first failure to write, so that numbers lost on a full
// disk do not pass for success.
type checked struct {
	to  io.Writer
	err error
}

// Write passes p on.
func (c *checked) Write(p []byte) (int, error) {
	n, err := c.to.Write(p)
	if c.err == nil {
		c.err = err
	}
	return n, err
}

func (c *checked) failed() error {
	if c.err == nil {
		return nil
	}
	return fmt.Errorf("output: cannot be written: %w", bare(c.err))
}
