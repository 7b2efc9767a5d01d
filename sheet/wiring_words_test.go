package sheet

import "fmt"

// ConnectionWords writes a connection in one line, for tests.
func ConnectionWords(k Connection) string {
	return fmt.Sprintf("%d %s – %s [%s]", k.Number, k.From, k.To, k.Wire)
}
