package main

import (
	"os"
	"os/exec"
	"runtime"
	"strings"
)

// family is a group of systems that install the same packages by the same
// command.
type family string

// The families that exact commands are known for.
const (
	debian  family = "debian"
	fedora  family = "fedora"
	macOS   family = "macos"
	windows family = "windows"
	other   family = "other"
)

// system is the computer at hand.
type system struct {
	name       string // as the system calls itself, for messages
	family     family
	mayInstall bool   // whether packages may be installed without asking anyone
	prefix     string // what stands before an installing command: nothing, or sudo
}

// thisSystem looks at the computer at hand.
func thisSystem() system {
	release, _ := os.ReadFile("/etc/os-release") // missing on some systems: then the name of the kernel serves
	s := systemOf(runtime.GOOS, string(release))
	if s.family != debian {
		return s
	}
	if _, err := exec.LookPath("apt-get"); err != nil {
		return s
	}
	switch {
	case os.Geteuid() == 0:
		s.mayInstall = true
	case exec.Command("sudo", "-n", "true").Run() == nil:
		s.mayInstall, s.prefix = true, "sudo "
	default:
		s.prefix = "sudo "
	}
	return s
}

// systemOf tells the system from the kernel's name and the text of os-release.
func systemOf(kernel, release string) system {
	switch kernel {
	case "darwin":
		return system{name: "macOS", family: macOS}
	case "windows":
		return system{name: "Windows", family: windows}
	case "linux":
		return linuxSystem(releaseFields(release))
	}
	return system{name: kernel, family: other}
}

func linuxSystem(fields map[string]string) system {
	s := system{name: fields["PRETTY_NAME"], family: other}
	if s.name == "" {
		s.name = "Linux"
	}
	for _, id := range strings.Fields(fields["ID"] + " " + fields["ID_LIKE"]) {
		switch id {
		case "debian", "ubuntu":
			s.family = debian
			return s
		case "fedora", "rhel", "centos":
			s.family, s.prefix = fedora, "sudo "
			return s
		}
	}
	return s
}

// releaseFields reads the form of os-release: NAME=value lines, values in quotes
// or bare, # begins a comment line.
func releaseFields(text string) map[string]string {
	fields := map[string]string{}
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		name, value, found := strings.Cut(line, "=")
		if !found || strings.HasPrefix(line, "#") {
			continue
		}
		fields[name] = strings.Trim(value, `"'`)
	}
	return fields
}

// installing is what to type on this system to install packages, line by line;
// nothing where no command is known.
func (s system) installing(packages []string) []string {
	list := strings.Join(packages, " ")
	switch s.family {
	case debian:
		return []string{s.prefix + "apt-get update", s.prefix + "apt-get install -y --no-install-recommends " + list}
	case fedora:
		return []string{s.prefix + "dnf install -y " + list}
	case macOS:
		return []string{"xcode-select --install"}
	case windows:
		return []string{
			"winget install -e --id MSYS2.MSYS2",
			`C:\msys64\usr\bin\pacman -S --needed --noconfirm ` + list,
			`setx PATH "%PATH%;C:\msys64\ucrt64\bin"   (then open a new terminal)`,
		}
	}
	return nil
}
