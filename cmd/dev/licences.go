package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// licencesFile lists what the programs are made of besides our own source.
const licencesFile = "assets/licences.txt"

// licences writes the licences of every module that the programs contain into
// a file, each text once. It fails when a module has none that is known to
// allow passing the programs on.
func licences(root string, args []string) error {
	list := exec.Command("go", "list", "-deps", "-json=ImportPath,Module,Standard", "./cmd/slipseat", "./cmd/cutsheet", "./cmd/laybench")
	list.Dir, list.Env, list.Stderr = root, environment(), os.Stderr
	out, err := list.Output()
	if err != nil {
		return fmt.Errorf("go list: %w", err)
	}
	type module struct {
		Path, Version, Dir string
		Main               bool
		Replace            *struct{ Path, Version, Dir string }
	}
	found := map[string]module{}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			Standard bool
			Module   *module
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return err
		}
		if p.Module != nil && !p.Module.Main {
			found[p.Module.Path] = *p.Module
		}
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return err
	}
	version, err := exec.Command("go", "env", "GOVERSION").Output()
	if err != nil {
		return err
	}
	found["the Go standard library"] = module{Path: "the Go standard library", Version: strings.TrimSpace(string(version)), Dir: strings.TrimSpace(string(goroot))}
	var names []string
	for name := range found {
		names = append(names, name)
	}
	slices.Sort(names)
	var head, texts bytes.Buffer
	fmt.Fprintf(&head, "What Slipseat's programs contain besides its own source, and on what terms.\nMade by: go run ./cmd/dev licences\n\n")
	numbers := map[string]int{}
	for _, name := range names {
		m := found[name]
		files, err := licenceFiles(m.Dir)
		if err != nil {
			return err
		}
		if len(files) == 0 {
			return fmt.Errorf("%s %s has no licence file", m.Path, m.Version)
		}
		var kinds, refs []string
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				return err
			}
			text = bytes.TrimSpace(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")))
			kind := licenceKind(string(text))
			if kind == "" {
				return fmt.Errorf("%s: the licence in %s is not one that is known here; read it, then add it to licenceKind", m.Path, filepath.Base(f))
			}
			sum := sha256.Sum256(text)
			key := hex.EncodeToString(sum[:])
			if numbers[key] == 0 {
				numbers[key] = len(numbers) + 1
				fmt.Fprintf(&texts, "\n\n---- text %d (%s) ----\n\n%s\n", numbers[key], kind, text)
			}
			if !slices.Contains(kinds, kind) {
				kinds = append(kinds, kind)
			}
			refs = append(refs, fmt.Sprint(numbers[key]))
		}
		fmt.Fprintf(&head, "%-55s %-40s %s, text %s\n", m.Path, m.Version, strings.Join(kinds, " and "), strings.Join(refs, ", "))
	}
	fmt.Fprintf(&head, "%-55s %-40s %s\n", "Inter (typeface, in assets/fonts)", "", "SIL OFL 1.1, text beside it")
	path := filepath.Join(root, licencesFile)
	if err := os.WriteFile(path, append(head.Bytes(), texts.Bytes()...), 0o644); err != nil {
		return err
	}
	fmt.Printf("dev: %d modules, %d texts, in %s\n", len(names), len(numbers), path)
	return nil
}

// licenceFiles are the licence files at the top of a module.
func licenceFiles(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var files []string
	for _, e := range entries {
		name := strings.ToUpper(e.Name())
		for _, beginning := range []string{"LICENSE", "LICENCE", "COPYING", "MIT-LICENSE", "UNLICENSE"} {
			if !e.IsDir() && strings.HasPrefix(name, beginning) {
				files = append(files, filepath.Join(dir, e.Name()))
				break
			}
		}
	}
	return files, nil
}

// licenceKind names a licence by words that only it has; "" for one that
// nobody has read yet.
func licenceKind(text string) string {
	flat := strings.Join(strings.Fields(text), " ")
	for _, k := range []struct{ name, words string }{
		{"Apache 2.0", "Apache License Version 2.0"},
		{"MPL 2.0", "Mozilla Public License Version 2.0"},
		{"SIL OFL 1.1", "SIL OPEN FONT LICENSE Version 1.1"},
		{"ISC", "Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee"},
		{"ISC", "Permission to use, copy, modify, and distribute this software for any purpose with or without fee"},
		{"BSD 3-clause", "endorse or promote products derived from"},
		{"BSD 2-clause", "Redistributions in binary form must reproduce"},
		{"FreeType", "The FreeType Project LICENSE"},
		{"FreeType or GPL, at your choice", "Use of the Freetype-Go software is subject to your choice of exactly one of the following two licenses"},
		{"MIT", "Permission is hereby granted, free of charge, to any person obtaining a copy"},
		{"public domain", "This is free and unencumbered software released into the public domain"},
		{"CC0 1.0", "CC0 1.0 Universal"},
	} {
		if strings.Contains(flat, k.words) {
			return k.name
		}
	}
	return ""
}
