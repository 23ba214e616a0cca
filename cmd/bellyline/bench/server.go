package bench

import (
	"context"
	"embed"
	"errors"
	"net"
	"net/http"
	"time"

	"bellyline/cmd/bellyline/shop"
)

//go:embed page
var page embed.FS

// Options say what the bench opens and what it takes. The zero value begins empty.
type Options struct {
	File        string // mold file or model of the command line, "" for none
	UploadBytes int64  // largest upload; 0: DefaultUploadBytes
	Progress    func(done, total int64)
}

// DefaultUploadBytes lets models of some five million facets in.
const DefaultUploadBytes = 256 << 20

// largestQuestion is far more than any settings are, in bytes.
const largestQuestion = 256 << 10

// Server is the bench as an HTTP handler. It may be used by any number of
// goroutines.
type Server struct {
	handler  http.Handler
	first    *work        // of the command line; nil for none
	source   *shop.Source // the same
	sessions *sessions
	upload   int64
}

// New opens the file of the command line, if there is one; its error is one line
// that names the file.
func New(ctx context.Context, o Options) (*Server, error) {
	s := &Server{sessions: newSessions(), upload: o.UploadBytes}
	if s.upload == 0 {
		s.upload = DefaultUploadBytes
	}
	if o.File != "" {
		var err error
		if s.source, err = shop.Kept(o.File); err != nil {
			return nil, err
		}
		if s.first, err = open(ctx, s.source, nil, o.Progress); err != nil {
			return nil, err
		}
	}
	s.handler = guard(s.routes())
	return s, nil
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// Serve answers on a listener until ctx ends. It waits a moment for answers under
// way: none of them writes to the disk.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	server := &http.Server{
		Handler: s, ReadHeaderTimeout: 5 * time.Second, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 32 << 10,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	stopped := context.AfterFunc(ctx, func() {
		const patience = 20 * time.Millisecond
		end, cancel := context.WithTimeout(context.WithoutCancel(ctx), patience)
		defer cancel()
		if server.Shutdown(end) != nil {
			server.Close()
		}
	})
	defer stopped()
	if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
