// Command dev sets a fresh machine up, starts the program and runs every test.
//
//	go run ./cmd/dev start    install what is missing, build, open the demo job
//	go run ./cmd/dev test     everything CI runs
//	go run ./cmd/dev window   the scripted user in the real window, alone
//	go run ./cmd/dev look DIR screenshots of every stage
//	go run ./cmd/dev soak NAME [-minutes N] [-seed S]  a long trial
//	go run ./cmd/dev windows  build the programs for Windows
//	go run ./cmd/dev licences list the licences of all that is used
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"time"
)

type command struct {
	name, what string
	run        func(root string, args []string) error
}

func commands() []command {
	return []command{
		{"start", "install what is missing, build, open the demo job", start},
		{"test", "everything CI runs", testAll},
		{"window", "the scripted user in the real window, alone", windowOnly},
		{"look", "pictures of every stage, light and dark, in a folder", look},
		{"soak", "a long trial, which can be gone on with later", soak},
		{"windows", "the programs for Windows, in bin/windows", windows},
		{"licences", "the licences of all that the programs contain, in " + licencesFile, licences},
	}
}

func main() {
	if len(os.Args) < 2 {
		usage()
		os.Exit(2)
	}
	root, err := moduleRoot()
	if err != nil {
		fmt.Fprintln(os.Stderr, "dev:", err)
		os.Exit(2)
	}
	for _, c := range commands() {
		if c.name != os.Args[1] {
			continue
		}
		began := time.Now()
		if err := c.run(root, os.Args[2:]); err != nil {
			fmt.Fprintf(os.Stderr, "dev %s: %v\n", c.name, err)
			os.Exit(1)
		}
		fmt.Printf("dev %s: done in %s\n", c.name, time.Since(began).Round(time.Second))
		return
	}
	usage()
	os.Exit(2)
}

func usage() {
	fmt.Fprintln(os.Stderr, "usage: go run ./cmd/dev COMMAND")
	for _, c := range commands() {
		fmt.Fprintf(os.Stderr, "  %-8s %s\n", c.name, c.what)
	}
}

// moduleRoot is the folder with our go.mod, at or above the working folder.
func moduleRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", fmt.Errorf("no go.mod here or above: run it inside the source folder")
		}
		dir = up
	}
}
