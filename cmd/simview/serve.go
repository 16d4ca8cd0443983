package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"simview/internal/compare"
	"simview/internal/web"
)

// serving holds the flags of serve.
type serving struct {
	port     int
	noOpen   bool
	sessions string
}

func serveCommand() *cobra.Command {
	var f serving
	c := &cobra.Command{
		Use:   "serve [CASE]",
		Short: "Open a page in the browser on which views are compared and causes turned up and down",
		Long: `serve answers on this computer alone (127.0.0.1), under a port that is free, prints
the address and opens it in the browser. Everything it needs is in the program; it
works without a network, and no question leaves the computer. The address holds a
key of this run: without it, and for other sites and other names of this computer,
the page is refused. Nothing is logged, and no measurement stands in an address.

A match, in which someone says which picture is more like what they see, is saved
after each answer in the folder of --sessions; its files have a date and a random
name and hold answers and words, nothing of the case.

Ctrl-C ends it. Without CASE it shows the built-in demo case.`,
		Example: `  simview serve
  simview serve case.yaml
  simview serve case.yaml --port 8080 --no-open
  simview serve case.yaml --sessions ./matches`,
		Args: oneCase, ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			if f.port < 0 || f.port > 65535 {
				return usagef("--port: must be 0 to 65535; 0 takes one that is free (got %d)", f.port)
			}
			from, err := openCase(args)
			if err != nil {
				return err
			}
			return f.serve(c, from)
		},
	}
	c.Flags().IntVar(&f.port, "port", 0, "answer under this `port`, 0 to 65535; 0 takes one that is free")
	c.Flags().BoolVar(&f.noOpen, "no-open", false, "print the address and open no browser")
	c.Flags().StringVar(&f.sessions, "sessions", "", "keep matches in this `folder` (default: simview/sessions in the folder for settings of this user)")
	return c
}

// folder is where matches are kept; "" where this computer has no place for it, and
// the page says so.
func (f serving) folder() string {
	if f.sessions != "" {
		return f.sessions
	}
	home, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(home, "simview", "sessions")
}

func (f serving) serve(c *cobra.Command, from opened) error {
	ln, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(f.port)))
	if err != nil {
		return fmt.Errorf("port %d: cannot be used, another program may hold it; hint: leave --port out to take one that is free", f.port)
	}
	defer ln.Close()
	page, err := web.New(from.Case, web.Options{Addr: ln.Addr(), Token: web.NewToken(), Sessions: f.folder()})
	if err != nil {
		return err
	}
	fmt.Fprintf(c.OutOrStdout(), "%s\n%s\nCtrl-C ends it.\n", page.URL(), compare.Notice[0])
	if !f.noOpen {
		openBrowser(c, page.URL())
	}
	return answerUntilStopped(c.Context(), ln, page.Handler())
}

// Times after which a browser that stopped halfway is let go.
const (
	headerTime = 5 * time.Second
	idleTime   = 2 * time.Minute
	endTime    = 3 * time.Second // for views that are being made when the program ends
)

// answerUntilStopped serves until ctx ends, then lets open answers finish.
func answerUntilStopped(ctx context.Context, ln net.Listener, h http.Handler) error {
	views, end := context.WithCancel(context.WithoutCancel(ctx))
	defer end()
	srv := &http.Server{
		Handler: h, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime, MaxHeaderBytes: 1 << 14,
		BaseContext: func(net.Listener) context.Context { return views },
	}
	failed := make(chan error, 1)
	go func() { failed <- srv.Serve(ln) }()
	select {
	case err := <-failed:
		return fmt.Errorf("page: stopped answering: %w", err)
	case <-ctx.Done():
	}
	end()
	late, stop := context.WithTimeout(context.WithoutCancel(ctx), endTime)
	defer stop()
	if err := srv.Shutdown(late); err != nil {
		srv.Close()
	}
	if err := <-failed; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// openBrowser asks the desktop to open an address; where there is none, the printed
// line is enough.
func openBrowser(c *cobra.Command, url string) {
	name, args := "xdg-open", []string{url}
	switch runtime.GOOS {
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", url}
	case "darwin":
		name = "open"
	}
	cmd := exec.Command(name, args...)
	if err := cmd.Start(); err != nil {
		fmt.Fprintln(c.ErrOrStderr(), "no browser could be opened; hint: open the address above by hand")
		return
	}
	go func() { _ = cmd.Wait() }()
}
