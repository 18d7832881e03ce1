//go:build js

// Command engine is the program's own code for a browser, as WebAssembly: it
// answers the page's requests with no program and no network behind it.
//
// It sets the global function neckloftEngine(name, body), which returns a promise
// of { status, type, data }, and then calls neckloftEngine.ready if there is one.
package main

import (
	"context"
	"runtime/debug"
	"syscall/js"

	"neckloft/export"
	"neckloft/render/live"
)

func main() {
	// Every move makes a mesh and drops the last one: memory is cheaper here than
	// the time to collect it so often.
	debug.SetGCPercent(400)
	engine := live.NewEngine(live.Options{Cautions: export.Cautions})
	answer := js.FuncOf(func(_ js.Value, args []js.Value) any {
		name := args[0].String()
		body := make([]byte, args[1].Length())
		js.CopyBytesToGo(body, args[1])
		return promise(func() js.Value {
			r := engine.Answer(context.Background(), name, body)
			data := js.Global().Get("Uint8Array").New(len(r.Data))
			js.CopyBytesToJS(data, r.Data)
			return js.ValueOf(map[string]any{"status": r.Status, "type": r.Type, "data": data})
		})
	})
	js.Global().Set("neckloftEngine", answer)
	if ready := js.Global().Get("neckloftReady"); ready.Type() == js.TypeFunction {
		ready.Invoke()
	}
	select {}
}

// promise returns a JavaScript promise of what work returns. Work must not run in
// the call itself, which may not wait.
func promise(work func() js.Value) js.Value {
	var executor js.Func
	executor = js.FuncOf(func(_ js.Value, args []js.Value) any {
		resolve := args[0]
		go func() {
			defer executor.Release()
			resolve.Invoke(work())
		}()
		return nil
	})
	return js.Global().Get("Promise").New(executor)
}
