// Package desk carries the browser desk: the one HTML file that make app
// builds, if this program was built after it.
package desk

import "embed"

//go:embed built
var built embed.FS

// Page returns the desk as HTML, and false if it had not been built when this
// program was.
func Page() ([]byte, bool) {
	page, err := built.ReadFile("built/tarry.html")
	return page, err == nil
}
