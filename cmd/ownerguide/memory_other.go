//go:build !linux

package main

func largePages() {} // the system decides
