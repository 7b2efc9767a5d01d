//go:build !js

package main

import (
	"fmt"
	"os"
)

// main says what this program is for.
func main() {
	fmt.Fprintln(os.Stderr, "tarry-wasm runs in a browser only: make app builds the desk around it; tarry is the command line")
	os.Exit(2)
}
