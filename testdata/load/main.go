// Command load drags the bench's line many times a second against a large model and
// prints how long answers take and what memory the bench holds:
//
//	go run ./testdata/load -facets 1000000 -rate 200 -seconds 60
//
// It starts the bench itself, talks to this machine only, and ends by itself.
package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

func main() {
	facets := flag.Int("facets", 1_000_000, "facets of the model")
	rate := flag.Int("rate", 200, "drags a second")
	seconds := flag.Int("seconds", 60, "how long, at most 600")
	flag.Parse()
	if err := run(*facets, *rate, min(*seconds, 600)); err != nil {
		fmt.Fprintln(os.Stderr, "load:", err)
		os.Exit(1)
	}
}

// work is what the bench says of an opened model.
type work struct {
	ID       string         `json:"id"`
	LowMM    float64        `json:"low_mm"`
	HighMM   float64        `json:"high_mm"`
	Settings map[string]any `json:"settings"`
}

func run(facets, rate, seconds int) error {
	dir, err := os.MkdirTemp("", "load-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program, model := filepath.Join(dir, "bellyline"), filepath.Join(dir, "ellipsoid.stl")
	if out, err := exec.Command("go", "build", "-o", program, "bellyline/cmd/bellyline").CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	if err := os.WriteFile(model, ellipsoid(facets), 0o600); err != nil {
		return err
	}
	bench := exec.Command(program, "bench", "--no-browser", model)
	bench.Stderr = os.Stderr
	out, err := bench.StdoutPipe()
	if err != nil {
		return err
	}
	if err := bench.Start(); err != nil {
		return err
	}
	defer bench.Wait()
	defer bench.Process.Kill()
	address, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		return err
	}
	api := strings.TrimSpace(address) + "api/"
	var w work
	if err := ask(api+"open", nil, &w); err != nil {
		return err
	}
	drags(api+"work/"+w.ID+"/answer", w, bench.Process.Pid, rate, seconds)
	return nil
}

func ask(path string, question, answer any) error {
	body, err := json.Marshal(question)
	if err != nil {
		return err
	}
	response, err := http.Post(path, "application/json", bytes.NewReader(body))
	if err != nil {
		return err
	}
	defer response.Body.Close()
	data, err := io.ReadAll(response.Body)
	if err != nil {
		return err
	}
	if response.StatusCode != http.StatusOK {
		return fmt.Errorf("status %d: %s", response.StatusCode, data)
	}
	return json.Unmarshal(data, answer)
}

// drags asks at a steady rate, whether earlier answers are there or not.
func drags(path string, w work, pid, rate, seconds int) {
	took := make([]time.Duration, rate*seconds)
	failed := make([]error, len(took))
	var all sync.WaitGroup
	tick := time.NewTicker(time.Second / time.Duration(rate))
	defer tick.Stop()
	for i := range took {
		<-tick.C
		if i%(10*rate) == 0 {
			fmt.Printf("%4d s  %s\n", i/rate, memory(pid))
		}
		all.Go(func() {
			question := map[string]any{}
			for k, v := range w.Settings {
				question[k] = v
			}
			// Up and down through the bait, a new height each time.
			step := float64(i%(2*rate)) / float64(rate)
			question["height_mm"] = w.LowMM + (w.HighMM-w.LowMM)*(0.05+0.9*min(step, 2-step)) + 1e-6*float64(i)
			var answer struct{ Error string }
			start := time.Now()
			err := ask(path, question, &answer)
			took[i] = time.Since(start)
			if err == nil && answer.Error != "" {
				err = fmt.Errorf("%s", answer.Error)
			}
			failed[i] = err
		})
	}
	all.Wait()
	fmt.Printf("%4d s  %s\n", seconds, memory(pid))
	report(took, failed)
}

func report(took []time.Duration, failed []error) {
	bad := slices.DeleteFunc(failed, func(err error) bool { return err == nil })
	slices.Sort(took)
	at := func(share float64) time.Duration {
		return took[int(share*float64(len(took)-1))].Round(10 * time.Microsecond)
	}
	fmt.Printf("%d drags, %d failed; median %v, 95 %% %v, 99 %% %v, longest %v\n", len(took), len(bad), at(0.5), at(0.95), at(0.99), at(1))
	if len(bad) > 0 {
		fmt.Println("first:", bad[0])
	}
}

// memory is what the system says that a process holds.
func memory(pid int) string {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return "memory is not known here"
	}
	for line := range strings.Lines(string(status)) {
		if rest, ok := strings.CutPrefix(line, "VmRSS:"); ok {
			return "holds " + strings.TrimSpace(rest)
		}
	}
	return "memory is not known here"
}
