// Command coilctl works on a collection without a window: it prints papers,
// verifies, backs up, restores, dumps and loads, and brings tables out and in. It needs no cgo and no display.
package main

import (
	"os"
	"time"

	"coilward/model/store"
)

func main() {
	if store.MainVerify(os.Args) {
		return
	}
	p := program{out: os.Stdout, errors: os.Stderr, now: time.Now, verify: store.VerifyInChild, language: languageOf(os.Getenv)}
	os.Exit(p.run(os.Args[1:]))
}

// languageOf is the language of messages by the usual variables of POSIX.
func languageOf(get func(string) string) string {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if v := get(name); v != "" {
			if len(v) >= 2 && v[:2] == "de" {
				return "de"
			}
			return "en"
		}
	}
	return "en"
}
