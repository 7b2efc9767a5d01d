package main

import (
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// BenchmarkProgramStart measures from the start of the program to the printed
// report of a library circuit, chart included. The program is built before.
func BenchmarkProgramStart(b *testing.B) {
	program := filepath.Join(b.TempDir(), "tarry")
	if out, err := exec.Command("go", "build", "-buildvcs=false", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	files, err := filepath.Glob("../../library/08*.tarry")
	if err != nil || len(files) != 1 {
		b.Fatalf("library/08*.tarry is %v: %v", files, err)
	}
	start := time.Now()
	n := 0
	for b.Loop() {
		if out, err := exec.Command(program, "run", files[0]).CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		n++
	}
	b.ReportMetric(float64(time.Since(start).Microseconds())/1000/float64(n), "ms/run")
}
