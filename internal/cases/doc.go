// Package cases holds the behaviour cases: each file of testdata/cases is a
// circuit with its scripts and everything that comes out of them, so that
// cause and effect stand in one place. It has tests only.
package cases
