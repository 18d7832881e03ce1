//go:build ignore

// Engine_make builds the engine for browsers into the folder engine: the command
// in cmd/engine as WebAssembly, packed, and the loader of the Go release that
// built it. The same source and the same Go release give the same bytes.
package main

import (
	"bytes"
	"compress/gzip"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	log.SetFlags(0)
	dir, err := os.MkdirTemp("", "neckloft-engine-")
	check(err)
	defer os.RemoveAll(dir)
	wasm := filepath.Join(dir, "engine.wasm")
	build := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", wasm, "../engine")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	build.Stderr = os.Stderr
	check(build.Run())
	data, err := os.ReadFile(wasm)
	check(err)
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	check(err)
	_, err = z.Write(data)
	check(err)
	check(z.Close())
	root, err := exec.Command("go", "env", "GOROOT").Output()
	check(err)
	loader, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	check(err)
	check(os.WriteFile(filepath.Join("engine", "loader.js"), loader, 0o644))
	check(os.WriteFile(filepath.Join("engine", "engine.wasm.gz"), packed.Bytes(), 0o644))
}

func check(err error) {
	if err != nil {
		log.Fatal("the engine cannot be built: ", err)
	}
}
