// Package outside holds checks whose answers do not come from this program:
// worked examples of text-books, handbooks and the trade, the timer rules of a
// standard, and a general-purpose reader of value change dumps. It has no code
// of its own, only tests; the circuits are in testdata/outside.
package outside
