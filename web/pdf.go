package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// browsers are the names under which a browser that can print is installed.
var browsers = []string{"chromium", "chromium-browser", "google-chrome", "google-chrome-stable"}

// findBrowser finds one of them on the machine.
func findBrowser() (string, error) {
	for _, name := range browsers {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("printing a paper: there is no Chromium on this machine. Install it, or write -format html " +
		"and print that from any browser")
}

// stamped is a day within a PDF, as the browser writes it. Source: ISO 32000-1, 7.9.4.
var stamped = regexp.MustCompile(`\(D:\d{14}\+00'00'\)`)

// printTime is how long a print may take: a build sheet of twenty pages needs a few seconds on a slow machine.
const printTime = 2 * time.Minute

// printed is a paper as PDF, printed by the browser without a window: its pages are those of the page's own print, and
// its headings and tables are marked up for who cannot see them. The paper loads nothing, and the browser is given a
// profile of its own, so that nothing of whoever runs this gets into it. The file bears the day of the paper, of ISO
// 8601, and not that of the print: the same paper printed by the same browser has the same bytes.
func printed(ctx context.Context, page []byte, day string) ([]byte, error) {
	browser, err := findBrowser()
	if err != nil {
		return nil, err
	}
	// a folder that nobody else can read: mode 700 by the standard library
	dir, err := os.MkdirTemp("", "ribband-print-")
	if err != nil {
		return nil, fmt.Errorf("printing a paper: %w", err)
	}
	defer os.RemoveAll(dir)
	from, to := filepath.Join(dir, "paper.html"), filepath.Join(dir, "paper.pdf")
	if err := os.WriteFile(from, page, 0o600); err != nil { // it may have costs in it
		return nil, fmt.Errorf("printing a paper: %w", err)
	}
	// without the browser's own head and foot: those of the paper are in its style sheet
	args := []string{"--headless", "--disable-gpu", "--no-first-run", "--disable-extensions",
		"--user-data-dir=" + filepath.Join(dir, "profile"), "--no-pdf-header-footer", "--print-to-pdf=" + to}
	if os.Geteuid() == 0 {
		args = append(args, "--no-sandbox") // the browser does not start for root otherwise; the paper has no script
	}
	ctx, cancel := context.WithTimeout(ctx, printTime)
	defer cancel()
	cmd := exec.CommandContext(ctx, browser, append(args, "file://"+from)...)
	cmd.WaitDelay = 5 * time.Second // its children hold the pipe
	// it ends with 0 and prints nothing if it cannot read the page: the file decides
	said, err := cmd.CombinedOutput()
	if err == nil {
		var pdf []byte
		if pdf, err = os.ReadFile(to); err == nil {
			stamp := "(D:" + strings.ReplaceAll(day, "-", "") + "000000+00'00')"
			return stamped.ReplaceAll(pdf, []byte(stamp)), nil
		}
	}
	return nil, fmt.Errorf("printing a paper with %s: %w\n%.2000s", browser, err, said)
}
