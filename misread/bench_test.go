package misread_test

import (
	"testing"

	"tarry/circuit"
	"tarry/engine"
	"tarry/misread"
)

// BenchmarkRunner plays all of section A on a single-contact circuit, machines
// kept; the time is for one reading.
func BenchmarkRunner(b *testing.B) {
	c, s := single(b, "on-delay 5 s", "notc", "ncto"), presses()["S3"]
	ids := applying(b, c)
	r := misread.NewRunner(c, engine.Options{NoCauses: true})
	lamp := signal(b, c, "H1")
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		p, err := r.Play(s, ids[i%len(ids)])
		if err != nil || len(p.Edges(lamp)) == 0 {
			b.Fatal(err)
		}
	}
}

// BenchmarkNewRunner makes the runner anew each time; the time is for all of
// section A.
func BenchmarkNewRunner(b *testing.B) {
	c, s := single(b, "on-delay 5 s", "notc", "ncto"), presses()["S3"]
	ids := applying(b, c)
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		r := misread.NewRunner(c, engine.Options{NoCauses: true})
		for _, id := range ids {
			r.Play(s, id)
		}
	}
}

// BenchmarkCoincide groups all of section A, machines kept.
func BenchmarkCoincide(b *testing.B) {
	c, s := single(b, "on-delay 5 s", "notc", "ncto"), presses()["S3"]
	r := misread.NewRunner(c, engine.Options{NoCauses: true})
	signals := []circuit.Signal{signal(b, c, "KT1.notc"), signal(b, c, "H1")}
	ids := runnable("A")
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		r.Coincide(s, signals, ids)
	}
}

// applying lists what applies of section A.
func applying(b *testing.B, c *circuit.Circuit) []string {
	b.Helper()
	var ids []string
	for _, r := range misread.All() {
		if ok, _ := misread.Applies(c, r); ok && r.Section == "A" {
			ids = append(ids, r.ID)
		}
	}
	return ids
}
