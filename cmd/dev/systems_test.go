package main

import (
	"strings"
	"testing"
)

func TestSystemOf(t *testing.T) {
	cases := []struct {
		kernel, release string
		name            string
		family          family
	}{
		{"linux", "PRETTY_NAME=\"Debian GNU/Linux 12 (bookworm)\"\nID=debian\n", "Debian GNU/Linux 12 (bookworm)", debian},
		{"linux", "PRETTY_NAME='Ubuntu 24.04 LTS'\nID=ubuntu\nID_LIKE=debian\n", "Ubuntu 24.04 LTS", debian},
		{"linux", "# a comment = none\nID=linuxmint\nID_LIKE=\"ubuntu debian\"\n", "Linux", debian},
		{"linux", "PRETTY_NAME=\"Fedora Linux 42\"\nID=fedora\n", "Fedora Linux 42", fedora},
		{"linux", "ID=\"rocky\"\nID_LIKE=\"rhel centos fedora\"\n", "Linux", fedora},
		{"linux", "ID=arch\nPRETTY_NAME=Arch\n", "Arch", other},
		{"linux", "", "Linux", other},
		{"darwin", "", "macOS", macOS},
		{"windows", "", "Windows", windows},
		{"plan9", "", "plan9", other},
	}
	for _, c := range cases {
		s := systemOf(c.kernel, c.release)
		if s.name != c.name || s.family != c.family {
			t.Errorf("systemOf(%q, %q) = %q, %q; want %q, %q", c.kernel, c.release, s.name, s.family, c.name, c.family)
		}
		if s.mayInstall {
			t.Errorf("systemOf(%q, %q) may install before anyone looked", c.kernel, c.release)
		}
	}
}

func FuzzReleaseFields(f *testing.F) {
	f.Add("ID=debian\n")
	f.Add("=\n#=\nA=\"")
	f.Fuzz(func(t *testing.T, text string) {
		for name, value := range releaseFields(text) {
			if strings.Contains(name, "=") || strings.Contains(name, "\n") || strings.Contains(value, "\n") {
				t.Errorf("field %q=%q of %q spans more than its line", name, value, text)
			}
		}
	})
}

func TestAdvice_IsTheCommandOfTheSystem(t *testing.T) {
	packages := []string{"one", "two"}
	cases := []struct {
		s    system
		want string
	}{
		{system{family: debian, prefix: "sudo "}, "sudo apt-get update\n    sudo apt-get install -y --no-install-recommends one two\n"},
		{system{family: debian}, "    apt-get install -y --no-install-recommends one two\n"},
		{system{family: fedora, prefix: "sudo "}, "sudo dnf install -y one two"},
		{system{family: macOS}, "xcode-select --install"},
		{system{family: windows}, `pacman -S --needed --noconfirm one two`},
		{system{family: other}, "your system's own means and start again: one two"},
	}
	for _, c := range cases {
		if got := advice(c.s, packages); !strings.Contains(got, c.want) {
			t.Errorf("advice for %s = %q, want in it %q", c.s.family, got, c.want)
		}
	}
}

func TestMissing(t *testing.T) {
	there, gone := func() bool { return true }, func() bool { return false }
	needs := []need{
		{"a thing that is there", there, map[family]string{debian: "there"}},
		{"two packages", gone, map[family]string{debian: "one two", fedora: "three"}},
		{"one of them again", gone, map[family]string{debian: "two"}},
		{"nothing to name", gone, map[family]string{macOS: ""}},
	}
	cases := []struct {
		f               family
		names, packages string
	}{
		{debian, "two packages, one of them again", "one two"},
		{fedora, "two packages", "three"},
		{macOS, "nothing to name", ""},
		{windows, "", ""},
	}
	for _, c := range cases {
		names, packages := missing(c.f, needs)
		if got := strings.Join(names, ", "); got != c.names {
			t.Errorf("missing on %s: %q, want %q", c.f, got, c.names)
		}
		if got := strings.Join(packages, " "); got != c.packages {
			t.Errorf("packages for %s: %q, want %q", c.f, got, c.packages)
		}
	}
	if names, packages := missing(other, needs); len(names) != 3 || len(packages) == 0 {
		t.Errorf("on an unknown system: %q, %q; want all three that are not there, with Debian's names", names, packages)
	}
}

func TestNeeds_EachHasAPackageOnDebianAndFedora(t *testing.T) {
	for _, list := range [][]need{screenNeeds(), paperNeeds(), windowsNeeds()} {
		for _, n := range list {
			if n.packages[debian] == "" || n.packages[fedora] == "" {
				t.Errorf("%s: no package known on Debian or Fedora", n.name)
			}
		}
	}
}
