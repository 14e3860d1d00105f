package web

import (
	"compress/gzip"
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
)

// maxBody is the most that a form or an uploaded job file may hold [bytes].
const maxBody = 256 << 10

// contentPolicy lets a page take only what this program serves: no inline
// script or style, nothing from elsewhere, no frame around it.
const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; " +
	"connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard wraps the bench: it answers only to the names of this machine, refuses
// what another site sends, caps what is read, and sends the content policy.
func guard(hosts map[string]bool, next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	inner := cross.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !hosts[strings.ToLower(r.Host)] {
			http.Error(w, fmt.Sprintf("this bench answers on its own address only, not as %q", r.Host), http.StatusMisdirectedRequest)
			return
		}
		h := w.Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		inner.ServeHTTP(w, r)
	})
}

// loopbackHosts returns the Host headers that a browser on this machine sends
// for a listener on addr.
func loopbackHosts(addr net.Addr) map[string]bool {
	_, port, err := net.SplitHostPort(addr.String())
	if err != nil {
		panic("web: listener without a port: " + addr.String())
	}
	return map[string]bool{
		"127.0.0.1:" + port: true,
		"localhost:" + port: true,
		"[::1]:" + port:     true,
	}
}

// CheckListen refuses an address that other machines could reach.
func CheckListen(addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return fmt.Errorf("web: address %q is not host:port, as in 127.0.0.1:7468: %w", addr, err)
	}
	if host == "localhost" {
		return nil
	}
	ip := net.ParseIP(host)
	if ip == nil || !ip.IsLoopback() {
		return fmt.Errorf("web: address %q can be reached from other machines; the bench has no sign-in and no encryption yet, so use 127.0.0.1", addr)
	}
	return nil
}

var gzipWriters = sync.Pool{New: func() any { return gzip.NewWriter(nil) }}

type gzipResponse struct {
	http.ResponseWriter
	gz *gzip.Writer
}

func (g gzipResponse) Write(p []byte) (int, error) { return g.gz.Write(p) }

// FlushError sends what was written so far, for a page that waits.
func (g gzipResponse) FlushError() error {
	if err := g.gz.Flush(); err != nil {
		return fmt.Errorf("web: %w", err)
	}
	if err := http.NewResponseController(g.ResponseWriter).Flush(); err != nil {
		return fmt.Errorf("web: %w", err)
	}
	return nil
}

// compressed sends pages gzipped to browsers that take it.
func compressed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
			next.ServeHTTP(w, r)
			return
		}
		gz := gzipWriters.Get().(*gzip.Writer)
		gz.Reset(w)
		w.Header().Set("Content-Encoding", "gzip")
		w.Header().Add("Vary", "Accept-Encoding")
		next.ServeHTTP(gzipResponse{w, gz}, r)
		// A write error here means that the browser has gone: there is nobody left to tell.
		_ = gz.Close()
		gzipWriters.Put(gz)
	})
}
