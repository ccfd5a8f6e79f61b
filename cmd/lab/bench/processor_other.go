//go:build !unix

package main

import "time"

// spent returns the time on the clock where that on processors is not told.
func spent() time.Duration { return time.Since(began) }
