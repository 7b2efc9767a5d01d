package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os/exec"
	"os/signal"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"tarry"
	"tarry/desk"
)

// deskPage returns the desk, or says why there is none.
func deskPage() ([]byte, error) {
	page, ok := desk.Page()
	if !ok {
		return nil, errors.New("this tarry was built without the browser desk; make build puts it in")
	}
	return page, nil
}

func (t *terminal) pack() *cobra.Command {
	var r tarry.LessonRequest
	var output string
	c := &cobra.Command{
		Use:   "pack FILE... -o LESSON.html",
		Short: "Pack circuits into a lesson that opens in any browser",
		Long: `pack writes one HTML file with the chosen circuits, their scripts and notes. It
opens with a double click, needs no network, and runs nothing but the desk.
Learners can run and predict; with --editor they can change the circuits too.`,
		Example: `  tarry pack belt.tarry fan.tarry -o lesson.html --title "Start delays"
  tarry pack belt.tarry -o lesson.html --script 1 --predict H1,M1`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("pack needs at least one FILE")
			}
			return nil
		},
		ValidArgsFunction: circuitFiles,
		RunE: func(_ *cobra.Command, names []string) error {
			if _, err := formOf(output, []string{"html"}); err != nil {
				return err
			}
			for _, name := range names {
				s, err := t.read(name)
				if err != nil {
					return err
				}
				r.Circuits = append(r.Circuits, s)
			}
			return t.packed(r, output)
		},
	}
	f := c.Flags()
	f.StringVarP(&output, "output", "o", "", "the HTML `FILE` to write")
	f.StringVar(&r.Title, "title", "", "the lesson's `TITLE`, else the first circuit's")
	f.BoolVar(&r.Editor, "editor", false, "let learners change the circuits")
	f.StringVar(&r.Script, "script", "", "`NAME` or number of the script to begin with")
	f.StringSliceVar(&r.Predict, "predict", nil, "`ROWS` to predict before the run is seen, or all: timed contacts, lamps, contactors, motors")
	return c
}

func (t *terminal) packed(r tarry.LessonRequest, output string) error {
	var err error
	if r.Page, err = deskPage(); err != nil {
		return err
	}
	for _, s := range r.Circuits {
		if sameFile(s.Name, output) {
			return fmt.Errorf("-o %s is one of the circuits; a lesson needs a file of its own", output)
		}
	}
	out, err := tarry.Pack(r)
	if err != nil {
		return err
	}
	fmt.Fprint(t.errs, out.Listing)
	if err := writeWhole(output, out.HTML); err != nil {
		return err
	}
	if out.Errors {
		return exit(exitInput)
	}
	return nil
}

func (t *terminal) app() *cobra.Command {
	var port int
	var quiet bool
	c := &cobra.Command{
		Use:   "app [FILE]",
		Short: "Open the browser desk, on a circuit if one is named",
		Long: `app serves the desk on this computer alone, prints its address and opens it in
the browser. It runs until it is interrupted. The desk needs no server: the same
page works as a file.`,
		Example: `  tarry app
  tarry app belt.tarry --port 8007`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return errors.New("app opens one FILE; open others from the desk")
			}
			return nil
		},
		ValidArgsFunction: circuitFiles,
		RunE: func(c *cobra.Command, names []string) error {
			page, err := t.deskOn(names)
			if err != nil {
				return err
			}
			return t.serve(c.Context(), page, port, !quiet)
		},
	}
	f := c.Flags()
	f.IntVar(&port, "port", 0, "`PORT` to serve on, 0 for any that is free")
	f.BoolVar(&quiet, "no-browser", false, "only print the address")
	return c
}

// deskOn is the desk with a file on it, if there is one.
func (t *terminal) deskOn(names []string) ([]byte, error) {
	page, err := deskPage()
	if err != nil || len(names) == 0 {
		return page, err
	}
	s, err := t.read(names[0])
	if err != nil {
		return nil, err
	}
	out, err := tarry.Pack(tarry.LessonRequest{Page: page, Circuits: []tarry.Source{s}, Plain: true})
	return out.HTML, err
}

// serve shows the page on the loopback address until it is interrupted.
func (t *terminal) serve(ctx context.Context, page []byte, port int, browse bool) error {
	if ctx == nil {
		ctx = context.Background()
	}
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGINT, syscall.SIGTERM)
	defer stop()
	listener, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return fmt.Errorf("cannot serve on port %d: %w", port, err)
	}
	address := "http://" + listener.Addr().String() + "/"
	fmt.Fprintf(t.out, "The desk is at %s\nCtrl-C ends it.\n", address)
	server := &http.Server{Handler: deskHandler(page), ReadHeaderTimeout: 10 * time.Second}
	go func() {
		<-ctx.Done()
		server.Close()
	}()
	if browse {
		openBrowser(address)
	}
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// deskHandler serves the one page, and only to this computer by its own name,
// so that no other site can reach it through a name of its own.
func deskHandler(page []byte) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host, _, err := net.SplitHostPort(r.Host)
		if err != nil {
			host = r.Host
		}
		switch {
		case host != "127.0.0.1" && host != "localhost":
			http.Error(w, "tarry serves this computer only", http.StatusForbidden)
		case r.URL.Path != "/":
			http.NotFound(w, r)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			http.Error(w, "only GET", http.StatusMethodNotAllowed)
		default:
			h := w.Header()
			h.Set("Content-Type", "text/html; charset=utf-8")
			h.Set("Cache-Control", "no-store")
			h.Set("X-Content-Type-Options", "nosniff")
			h.Set("Referrer-Policy", "no-referrer")
			h.Set("X-Frame-Options", "DENY") // the page's own policy can't say it
			w.Write(page)
		}
	})
}

// openBrowser asks the system to show an address. That it can't is no fault:
// the address has been printed.
func openBrowser(address string) {
	command := []string{"xdg-open"}
	switch runtime.GOOS {
	case "darwin":
		command = []string{"open"}
	case "windows":
		command = strings.Fields("rundll32 url.dll,FileProtocolHandler")
	}
	c := exec.Command(command[0], append(command[1:], address)...)
	if c.Start() == nil {
		go c.Wait()
	}
}
