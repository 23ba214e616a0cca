package main

import (
	"os/exec"
	"runtime"
)

// openBrowser shows a page in the user's browser. One that cannot be started is no
// error: the address has been printed.
func openBrowser(address string) {
	var c *exec.Cmd
	switch runtime.GOOS {
	case "windows":
		c = exec.Command("rundll32", "url.dll,FileProtocolHandler", address)
	case "darwin":
		c = exec.Command("open", address)
	default:
		c = exec.Command("xdg-open", address)
	}
	if c.Start() == nil {
		go c.Wait() // so that it does not stay behind as a zombie
	}
}
