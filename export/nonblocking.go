//go:build !js

package export

import "syscall"

// nonBlocking opens a pipe without waiting for its writer.
const nonBlocking = syscall.O_NONBLOCK
