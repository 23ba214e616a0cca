// Package inbrowser holds the tests of the bench that use it as people do: the real
// program, its page in a real browser. They need chromium, and skip without it; with
// CI=true they fail instead.
package inbrowser
