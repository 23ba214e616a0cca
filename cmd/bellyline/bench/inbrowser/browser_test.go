package inbrowser

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// need skips, or fails where CI=true promises that nothing is skipped.
func need(t testing.TB, ok bool, reason string) {
	t.Helper()
	switch {
	case ok:
	case os.Getenv("CI") == "true":
		t.Fatal(reason)
	default:
		t.Skip(reason)
	}
}

// chromium is the browser's program, "" without one.
func chromium() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// made is what all tests share: the program, and one browser.
var made struct {
	program string
	browser context.Context
}

func TestMain(m *testing.M) {
	os.Exit(func() int {
		path := chromium()
		if path == "" {
			return m.Run()
		}
		dir, err := os.MkdirTemp("", "bench-")
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		defer os.RemoveAll(dir)
		made.program = filepath.Join(dir, "bellyline")
		if out, err := exec.Command("go", "build", "-o", made.program, "bellyline/cmd/bellyline").CombinedOutput(); err != nil {
			fmt.Fprintf(os.Stderr, "%v: %s\n", err, out)
			return 1
		}
		options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.UserDataDir(filepath.Join(dir, "profile")),
			chromedp.WSURLReadTimeout(2*time.Minute), chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("enable-unsafe-swiftshader", true))
		allocator, end := chromedp.NewExecAllocator(context.Background(), options...)
		defer end()
		var stop context.CancelFunc
		made.browser, stop = chromedp.NewContext(allocator)
		defer stop()
		if err := chromedp.Run(made.browser); err != nil {
			fmt.Fprintf(os.Stderr, "%s does not start: %v\n", path, err)
			return 1
		}
		return m.Run()
	}())
}

// start runs the bench on copies of the examples and returns its address and the
// folder of the copies.
func start(t testing.TB, args ...string) (address, folder string) {
	t.Helper()
	need(t, made.browser != nil, "there is no chromium to look at the page with")
	folder = t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(filepath.Join("..", "..", "..", "..", "examples"))); err != nil {
		t.Fatal(err)
	}
	c := exec.CommandContext(t.Context(), made.program, append([]string{"bench", "--no-browser"}, args...)...)
	c.Dir, c.Stderr = folder, os.Stderr
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) }
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := c.Wait(); err != nil && !errors.Is(err, context.Canceled) {
			t.Errorf("the bench ended badly: %v", err)
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(line), folder
}

// tab is one page in the browser.
type tab struct {
	t   testing.TB
	ctx context.Context
	mu  sync.Mutex
	bad []string // what the browser complained of
}

// patience is far more than anything takes; the machine may be busy.
const patience = 3 * time.Minute

// openTab opens a page, which must come up without a complaint of the browser, then
// and until the test ends.
func openTab(t testing.TB, address string) *tab {
	t.Helper()
	return openTabFor(t, address, patience)
}

// openTabFor is openTab for a test that takes longer.
func openTabFor(t testing.TB, address string, patience time.Duration) *tab {
	t.Helper()
	ctx, end := chromedp.NewContext(made.browser)
	t.Cleanup(end)
	ctx, stop := context.WithTimeout(ctx, patience)
	t.Cleanup(stop)
	p := &tab{t: t, ctx: ctx}
	t.Cleanup(func() {
		p.mu.Lock()
		defer p.mu.Unlock()
		for _, b := range p.bad {
			t.Errorf("the browser complains: %s", b)
		}
	})
	chromedp.ListenTarget(ctx, p.listen)
	p.do(chromedp.EmulateViewport(1280, 900), chromedp.Navigate(address), chromedp.WaitReady("body[data-ready=yes]"))
	return p
}

func (p *tab) listen(event any) {
	text := ""
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		text = e.ExceptionDetails.Error()
	case *log.EventEntryAdded:
		// A refusal comes with a status of 4xx, which browsers log.
		if e.Entry.Level == log.LevelError && e.Entry.Source != log.SourceNetwork {
			text = e.Entry.Text
		}
	}
	if text != "" {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.bad = append(p.bad, text)
	}
}

func (p *tab) do(actions ...chromedp.Action) {
	p.t.Helper()
	if err := chromedp.Run(p.ctx, actions...); err != nil {
		p.t.Fatal(err)
	}
}

// settle waits until the last answer is on the page.
func (p *tab) settle() {
	p.t.Helper()
	p.do(chromedp.WaitReady("#numbers[aria-busy=false]"))
}

// look evaluates an expression on the page.
func look[T any](p *tab, expression string) T {
	p.t.Helper()
	var v T
	p.do(chromedp.Evaluate(expression, &v))
	return v
}

// program runs a command in a folder and returns what it printed.
func program(t testing.TB, folder string, args ...string) (out []byte, complaint string) {
	t.Helper()
	c := exec.CommandContext(t.Context(), made.program, args...)
	c.Dir = folder
	out, err := c.Output()
	if exit, ok := errors.AsType[*exec.ExitError](err); ok {
		return out, strings.TrimSpace(string(exit.Stderr))
	}
	if err != nil {
		t.Fatal(err)
	}
	return out, ""
}

// pourJSON is what "pour --json" says.
func pourJSON(t *testing.T, folder, mold string) any {
	t.Helper()
	out, complaint := program(t, folder, "pour", "--json", mold)
	if complaint != "" {
		t.Fatal(complaint)
	}
	var v any
	if err := json.Unmarshal(out, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// save presses a button of the page and returns the file that comes.
func (p *tab) save(what string) string {
	p.t.Helper()
	dir := p.t.TempDir()
	done := make(chan string, 1)
	chromedp.ListenTarget(p.ctx, func(event any) {
		if e, ok := event.(*browser.EventDownloadProgress); ok && e.State == browser.DownloadProgressStateCompleted {
			select {
			case done <- e.GUID:
			default:
			}
		}
	})
	p.do(browser.SetDownloadBehavior(browser.SetDownloadBehaviorBehaviorAllowAndName).WithDownloadPath(dir).WithEventsEnabled(true),
		chromedp.Click("[data-save="+what+"]"))
	select {
	case id := <-done:
		return filepath.Join(dir, id)
	case <-p.ctx.Done():
		p.t.Fatalf("nothing came for %s: %s", what, look[string](p, "document.getElementById('refusal').textContent"))
	}
	return ""
}
