package main

import (
	"runtime"
	"runtime/debug"
	"syscall/js"

	"tarry"
)

// main offers the page's worker one function, tarry(call, request), and waits
// for its calls.
func main() {
	// The engine's memory is a few megabytes and its garbage is short-lived: to
	// collect it less often costs little room and saves a third of the time.
	debug.SetGCPercent(800)
	desk := tarry.NewDesk()
	calls["memory"] = of(func(*tarry.Desk, none) (memory, error) { return measure(), nil })
	js.Global().Set("tarry", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(answer(desk, args[0].String(), []byte(args[1].String())))
	}))
	if ready := js.Global().Get("tarryReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}

// memory is what the engine takes in bytes: in use after a collection, and got
// from the browser.
type memory struct {
	Used uint64 `json:"used"`
	Held uint64 `json:"held"`
}

func measure() memory {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return memory{m.HeapAlloc, m.Sys}
}
