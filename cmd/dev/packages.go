package main

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// need is one thing that must be on the computer.
type need struct {
	name     string            // what it is, for people
	met      func() bool       // whether it is there
	packages map[family]string // what holds it, parted by spaces; families left out do not need it
}

// moduleNeeds is what fetching the modules takes.
func moduleNeeds() []need {
	return []need{
		{"certificates to fetch modules with", file("/etc/ssl/certs/ca-certificates.crt", "/etc/pki/tls/certs/ca-bundle.crt", "/etc/ssl/cert.pem"),
			map[family]string{debian: "ca-certificates", fedora: "ca-certificates"}},
	}
}

// runNeeds is what building and starting the window takes.
func runNeeds() []need {
	return append(buildNeeds(),
		need{"a software renderer for OpenGL", file("/usr/lib/*/dri/*_dri.so", "/usr/lib64/dri/*_dri.so", "/usr/lib/dri/*_dri.so"),
			map[family]string{debian: "libgl1-mesa-dri", fedora: "mesa-dri-drivers"}})
}

// buildNeeds is what building the window takes.
func buildNeeds() []need {
	return append(moduleNeeds(), []need{
		{"a C compiler", compiler,
			map[family]string{debian: "gcc libc6-dev", fedora: "gcc glibc-devel", macOS: "", windows: "mingw-w64-ucrt-x86_64-gcc"}},
		{"pkg-config", program("pkg-config"), map[family]string{debian: "pkgconf", fedora: "pkgconf-pkg-config"}},
		{"the header of OpenGL", header("GL/gl.h"), map[family]string{debian: "libgl-dev", fedora: "libglvnd-devel"}},
		{"the header of X pointers", header("X11/Xcursor/Xcursor.h"), map[family]string{debian: "libxcursor-dev", fedora: "libXcursor-devel"}},
		{"the header of X screens", header("X11/extensions/Xrandr.h"), map[family]string{debian: "libxrandr-dev", fedora: "libXrandr-devel"}},
		{"the header of joined X screens", header("X11/extensions/Xinerama.h"), map[family]string{debian: "libxinerama-dev", fedora: "libXinerama-devel"}},
		{"the header of X input", header("X11/extensions/XInput2.h"), map[family]string{debian: "libxi-dev", fedora: "libXi-devel"}},
		{"the header of X video modes", header("X11/extensions/xf86vmode.h"), map[family]string{debian: "libxxf86vm-dev", fedora: "libXxf86vm-devel"}},
	}...)
}

// screenNeeds is what driving the window on a screen of its own takes.
func screenNeeds() []need {
	return append(runNeeds(),
		need{"a screen in memory", program("Xvfb"), map[family]string{debian: "xvfb", fedora: "xorg-x11-server-Xvfb"}},
		need{"a hand for it", program("xdotool"), map[family]string{debian: "xdotool", fedora: "xdotool"}},
		need{"an eye for it", program("import"), map[family]string{debian: "imagemagick", fedora: "ImageMagick"}})
}

// paperNeeds is what checking printed papers takes.
func paperNeeds() []need {
	return append(moduleNeeds(), []need{
		{"a reader of PDF", program("pdftotext"), map[family]string{debian: "poppler-utils", fedora: "poppler-utils"}},
		{"a checker of PDF", program("qpdf"), map[family]string{debian: "qpdf", fedora: "qpdf"}},
	}...)
}

// windowsNeeds is what building for Windows and starting that build takes.
func windowsNeeds() []need {
	return []need{
		{"a C compiler for Windows", program(windowsCompiler), map[family]string{debian: "gcc-mingw-w64-x86-64", fedora: "mingw64-gcc"}},
		{"Wine", program("wine"), map[family]string{debian: "wine wine64", fedora: "wine"}},
	}
}

// program is met by a program on the path.
func program(name string) func() bool {
	return func() bool {
		_, err := exec.LookPath(name)
		return err == nil
	}
}

// compiler is met by a C compiler. A Mac always has one by name, which only asks
// to be installed.
func compiler() bool {
	if runtime.GOOS == "darwin" {
		return exec.Command("xcode-select", "-p").Run() == nil
	}
	return program("gcc")() && header("stdlib.h")()
}

// header is met by a header file that the C compiler finds.
func header(name string) func() bool {
	return func() bool {
		cmd := exec.Command("gcc", "-E", "-x", "c", "-")
		cmd.Stdin = strings.NewReader("#include <" + name + ">\n")
		return cmd.Run() == nil
	}
}

// file is met by a file that one of the patterns matches.
func file(patterns ...string) func() bool {
	return func() bool {
		return slices.ContainsFunc(patterns, func(pattern string) bool {
			found, _ := filepath.Glob(pattern) // fails on a malformed pattern alone
			return len(found) > 0
		})
	}
}

// missing are the needs of a family that are not met, each package once.
func missing(f family, needs []need) (names, packages []string) {
	for _, n := range needs {
		held, needed := n.packages[f]
		if f == other {
			held, needed = n.packages[debian]+" (as Debian calls it)", true
		}
		if !needed || n.met() {
			continue
		}
		names = append(names, n.name)
		for _, p := range strings.Fields(held) {
			if !slices.Contains(packages, p) {
				packages = append(packages, p)
			}
		}
	}
	return names, packages
}

// setUp installs what is missing where it may, and else fails with what to type.
func (w *workshop) setUp(ctx context.Context, needs []need) error {
	s := thisSystem()
	names, packages := missing(s.family, needs)
	if len(names) == 0 {
		return nil
	}
	w.say("missing on this computer (%s): %s", s.name, strings.Join(names, ", "))
	if !s.mayInstall {
		return errors.New(advice(s, packages))
	}
	if err := w.install(ctx, s, packages); err != nil {
		return err
	}
	if names, _ = missing(s.family, needs); len(names) > 0 {
		return fmt.Errorf("still missing after installing %s: %s", strings.Join(packages, " "), strings.Join(names, ", "))
	}
	return nil
}

func (w *workshop) install(ctx context.Context, s system, packages []string) error {
	quiet := []string{"DEBIAN_FRONTEND=noninteractive"}
	for _, line := range s.installing(packages) {
		w.say("$ %s", line)
		words := strings.Fields(line)
		if err := w.do(ctx, quiet, words[0], words[1:]...); err != nil {
			return fmt.Errorf("install what is missing: %w", err)
		}
	}
	return nil
}

// advice is what a person can type to get what is missing.
func advice(s system, packages []string) string {
	lines := s.installing(packages)
	if len(lines) == 0 {
		return "install these with your system's own means and start again: " + strings.Join(packages, " ")
	}
	return "type this and start again:\n\n    " + strings.Join(lines, "\n    ") + "\n"
}
