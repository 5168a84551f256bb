//go:build !linux

package main

import (
	"errors"
	"os"
)

// exchange is for systems that can do it in one step.
func exchange(*os.File, string, string) error { return errors.ErrUnsupported }

func lockFolder(*os.File) error { return nil }
