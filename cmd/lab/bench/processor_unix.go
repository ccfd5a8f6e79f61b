//go:build unix

package main

import (
	"syscall"
	"time"
)

// spent returns the time that this process has been on processors.
func spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return time.Since(began)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
