package main

import (
	"syscall/js"

	"tarry"
)

// main offers the page's worker one function, tarry(call, request), and waits
// for its calls.
func main() {
	desk := tarry.NewDesk()
	js.Global().Set("tarry", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return string(answer(desk, args[0].String(), []byte(args[1].String())))
	}))
	if ready := js.Global().Get("tarryReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}
