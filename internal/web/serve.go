package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"time"

	"github.com/heatwright/heatwright/sim"
)

// Options says how the bench is opened.
type Options struct {
	Listen string // host:port on this machine
	Open   bool   // show it in the browser
	Engine sim.Engine
	Log    io.Writer // where its address is told
}

// Serve opens the bench and keeps it open until ctx ends.
func Serve(ctx context.Context, o Options) error {
	if err := CheckListen(o.Listen); err != nil {
		return err
	}
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", o.Listen)
	if err != nil {
		return fmt.Errorf("web: open the bench on %s: %w", o.Listen, err)
	}
	server := &http.Server{
		Handler:           Handler(loopbackHosts(listener.Addr()), o.Engine),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       15 * time.Second,
		WriteTimeout:      2 * time.Minute,
		IdleTimeout:       5 * time.Minute,
		MaxHeaderBytes:    64 << 10,
	}
	where := "http://" + listener.Addr().String() + "/"
	fmt.Fprintf(o.Log, "The bench is open at %s\nIt answers on this machine only. Ctrl+C closes it.\n", where)
	if o.Open {
		if err := show(where); err != nil {
			fmt.Fprintf(o.Log, "No browser could be started (%v): open that address yourself.\n", err)
		}
	}
	go warm(ctx, server.Handler, listener.Addr().String())
	closed := make(chan error, 1)
	go func() {
		<-ctx.Done()
		end, stop := context.WithTimeout(context.WithoutCancel(ctx), 3*time.Second)
		defer stop()
		closed <- server.Shutdown(end)
	}()
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("web: %w", err)
	}
	if err := <-closed; err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return fmt.Errorf("web: close the bench: %w", err)
	}
	return nil
}

// warm asks for the first page before the browser does, and then once for each
// steel that it offers, so that answers come at once: the equilibria of a steel
// take longer than all the rest of a glance.
func warm(ctx context.Context, bench http.Handler, host string) {
	ask := func(query string) {
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+host+"/?"+query, http.NoBody)
		if err != nil || ctx.Err() != nil {
			return // the bench is being closed
		}
		r.Header.Set("Accept-Language", languageOfDesk())
		bench.ServeHTTP(nowhere{http.Header{}}, r)
	}
	ask("")
	for _, name := range append(steelNames(), unknownSteel) {
		ask(url.Values{"steel": {name}}.Encode())
	}
}

// languageOfDesk guesses what the browser will ask for.
func languageOfDesk() string {
	if lang := os.Getenv("LANG"); strings.HasPrefix(lang, "en_US") || lang == "" || lang == "C.UTF-8" {
		return "en-US"
	}
	return "en-GB"
}

// nowhere takes a page that nobody reads.
type nowhere struct{ header http.Header }

func (n nowhere) Header() http.Header         { return n.header }
func (n nowhere) Write(p []byte) (int, error) { return len(p), nil }
func (n nowhere) WriteHeader(int)             {}

// show opens an address in the browser of this desk.
func show(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	return exec.Command(name, args...).Start()
}
