package bench

import (
	"net"
	"net/http"
	"net/netip"
	"strings"
)

// policy lets the page use its own files and nothing else. Saved files are handed
// over as blobs, which no policy has to name.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// guard answers only what comes from a page of this server on this machine: a Host
// that is a loopback name (else a foreign name could be made to point here), and for
// all that changes something an origin that is our own.
func guard(next http.Handler) http.Handler {
	ownOrigin := http.NewCrossOriginProtection().Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Referrer-Policy", "no-referrer")
		head.Set("Cache-Control", "no-store")
		if !isLoopback(r.Host) {
			http.Error(w, "the bench answers only to a name of this machine, like 127.0.0.1", http.StatusForbidden)
			return
		}
		ownOrigin.ServeHTTP(w, r)
	})
}

// isLoopback tells whether a Host header names this machine.
func isLoopback(host string) bool {
	if name, port, err := net.SplitHostPort(host); err == nil && port != "" {
		host = name
	} else {
		host = strings.TrimSuffix(strings.TrimPrefix(host, "["), "]")
	}
	if strings.EqualFold(host, "localhost") {
		return true
	}
	addr, err := netip.ParseAddr(host)
	return err == nil && addr.IsLoopback() && addr.Zone() == ""
}
