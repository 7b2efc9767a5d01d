package main

import (
	"net/http/httptest"
	"testing"
)

// TestDeskHandler: the page is for this computer, by its own name, and nothing
// else is served.
func TestDeskHandler(t *testing.T) {
	h := deskHandler([]byte("<p>desk"))
	for _, c := range []struct {
		method, host, path string
		code               int
	}{
		{"GET", "127.0.0.1:8007", "/", 200},
		{"HEAD", "localhost:8007", "/", 200},
		{"GET", "localhost", "/", 200},
		{"GET", "elsewhere.example:8007", "/", 403},
		{"GET", "127.0.0.1.example", "/", 403},
		{"GET", "127.0.0.1:8007", "/other", 404},
		{"POST", "127.0.0.1:8007", "/", 405},
	} {
		r := httptest.NewRequest(c.method, "http://x"+c.path, nil)
		r.Host = c.host
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != c.code {
			t.Errorf("%s %s of %s: %d, not %d", c.method, c.path, c.host, w.Code, c.code)
		}
		if got := w.Header().Get("X-Frame-Options"); c.code == 200 && got != "DENY" {
			t.Errorf("the page may stand in a frame: %q", got)
		}
	}
}
