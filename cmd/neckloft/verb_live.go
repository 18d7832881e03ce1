package main

import (
	"context"
	"fmt"
	"html"
	"io"
	"net"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"

	"neckloft/export"
	"neckloft/neck/spec"
	"neckloft/render/live"
)

func (p *program) liveVerb() *cobra.Command {
	var port int
	var noOpen bool
	cmd := &cobra.Command{
		Use:   "live [SPEC.toml]",
		Short: "Shape the neck by hand on a page in the browser",
		Long: `Serves one page to this machine only, and opens it in the browser: the neck in
three dimensions, a section that moves along it, and a control for every key of
the spec. The page follows the file when an editor changes it, and asks before
it saves over such a change. It needs no network. Ctrl-C ends it.`,
		Example: `  neckloft live my-neck.toml
  neckloft live --port 8020 --no-open`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if port < 0 || port > 65535 {
				return wrong("--port %d is not a port; allowed: 1 to 65535, or 0 for a free one", port)
			}
			opts, err := p.liveOptions(args)
			if err != nil {
				return specError(err)
			}
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			return p.live(ctx, opts, port, !noOpen)
		},
	}
	cmd.Flags().IntVar(&port, "port", 0, "port to serve on, 0 for the file's own if it is free, or another")
	cmd.Flags().BoolVar(&noOpen, "no-open", false, "do not open the browser")
	return cmd
}

// liveOptions returns what to serve: a file, the demo neck for none, or the
// text on standard input for "-".
func (p *program) liveOptions(args []string) (live.Options, error) {
	shop, err := p.sharedTools()
	opts := live.Options{Cautions: export.Cautions, Tools: shop}
	switch {
	case err != nil:
		return opts, err
	case len(args) == 0:
		fmt.Fprintf(p.err, "neckloft: no spec given: this is the built-in demo neck, %q\n", spec.Demo().Name)
		opts.Text = spec.Starter()
	case args[0] == "-":
		data, err := io.ReadAll(io.LimitReader(p.in, spec.MaxFileSize+1))
		if err != nil {
			return opts, fmt.Errorf("standard input cannot be read: %w", err)
		}
		if len(data) > spec.MaxFileSize {
			return opts, fmt.Errorf("standard input: this is larger than 1 MiB, which no spec is")
		}
		opts.Text = string(data)
	case whatIs(textOf(args[0])) == someReadings:
		return opts, noSpec(args[0])
	default:
		opts.File = args[0]
	}
	return opts, nil
}

// live serves the page until ctx ends.
func (p *program) live(ctx context.Context, opts live.Options, port int, open bool) error {
	s, err := live.New(opts)
	if err != nil {
		return usageError{err}
	}
	defer s.Close()
	l, err := listen(opts.File, port)
	if err != nil {
		return err
	}
	url := s.URL(l)
	fmt.Fprintf(p.out, "the live page is at %s\nCtrl-C ends it\n", url)
	if open {
		report := func(err error) {
			fmt.Fprintf(p.err, "neckloft: the browser could not be opened (%v); open the address by hand\n", err)
		}
		if door, err := newDoor(url); err != nil {
			report(err)
		} else {
			defer door.remove()
			openBrowser(door.file, report)
		}
	}
	return serveLive(ctx, s, l)
}

// listen opens the port that was asked for, or for none that of the file if it is
// free, and else a free one.
func listen(file string, port int) (net.Listener, error) {
	if port == 0 {
		if l, err := live.Listen(live.UsualPort(file)); err == nil {
			return l, nil
		}
	}
	return live.Listen(port)
}

// serveLive answers the page. Every move of a control makes a mesh and drops
// the last one: memory is cheaper here than the time to collect it so often, up
// to a limit, which the builder's own (GOMEMLIMIT) goes before.
func serveLive(ctx context.Context, s *live.Server, l net.Listener) error {
	const most = 1 << 30
	defer debug.SetGCPercent(debug.SetGCPercent(800))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(min(most, debug.SetMemoryLimit(-1))))
	return s.Serve(ctx, l)
}

// door is a file that leads a browser to the page. What a program is started
// with can be seen by everybody on the machine, and the address lets in whoever
// has it: so the browser is given the name of a file that only its owner reads.
type door struct{ dir, file string }

func newDoor(url string) (*door, error) {
	dir, err := os.MkdirTemp("", "neckloft-live-") // for the owner only
	if err != nil {
		return nil, err
	}
	d := &door{dir, filepath.Join(dir, "neckloft.html")}
	to := html.EscapeString(url)
	page := "<!doctype html>\n<meta charset=\"utf-8\">\n<meta name=\"referrer\" content=\"no-referrer\">\n<meta http-equiv=\"refresh\" content=\"0;url=" + to +
		"\">\n<title>neckloft</title>\n<a href=\"" + to + "\">To the live page</a>\n"
	if err := os.WriteFile(d.file, []byte(page), 0o600); err != nil {
		d.remove()
		return nil, err
	}
	return d, nil
}

func (d *door) remove() { os.RemoveAll(d.dir) }

// openBrowser asks the system to show a file in the browser, and reports if it
// cannot.
func openBrowser(file string, report func(error)) {
	name, args := "xdg-open", []string{file}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", file}
	}
	cmd := exec.Command(name, args...)
	if err := cmd.Start(); err != nil {
		report(err)
		return
	}
	go func() {
		if err := cmd.Wait(); err != nil {
			report(fmt.Errorf("%s: %w", name, err))
		}
	}()
}
