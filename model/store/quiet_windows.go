package store

import (
	"os/exec"
	"syscall"
)

// quiet keeps a console window from flashing up for the child.
func quiet(command *exec.Cmd) {
	command.SysProcAttr = &syscall.SysProcAttr{HideWindow: true}
}
