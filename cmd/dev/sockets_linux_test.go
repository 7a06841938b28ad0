package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"unsafe"
)

// strangeSockets names every socket of a process that is not a local one, or
// whose other end is neither the display nor the desktop bus.
func strangeSockets(process int, peers map[uint32]localSocket) ([]string, error) {
	own, err := socketsOf(process)
	if err != nil {
		return nil, err
	}
	var strange []string
	for _, kind := range []string{"tcp", "tcp6", "udp", "udp6", "udplite", "raw", "raw6", "packet", "icmp"} {
		for _, number := range numbersIn(fmt.Sprintf("/proc/%d/net/%s", process, kind)) {
			if slices.Contains(own, number) {
				strange = append(strange, fmt.Sprintf("%s socket %d", kind, number))
			}
		}
	}
	for _, number := range own {
		if s, local := peers[number]; local && !known(peers, s) {
			strange = append(strange, fmt.Sprintf("local socket %d to %q", number, peers[s.peer].name))
		}
	}
	return strange, nil
}

// known reports whether a local socket ends at the display or the desktop bus,
// or nowhere yet.
func known(peers map[uint32]localSocket, s localSocket) bool {
	if s.listens {
		return false
	}
	name := strings.TrimPrefix(peers[s.peer].name, "\x00")
	return s.peer == 0 || strings.Contains(name, ".X11-unix/X") || strings.Contains(name, "dbus") || strings.HasSuffix(name, "/bus")
}

// socketsOf are the numbers of all sockets that a process holds.
func socketsOf(process int) ([]uint32, error) {
	files, err := filepath.Glob(fmt.Sprintf("/proc/%d/fd/*", process))
	if err != nil || len(files) == 0 {
		return nil, fmt.Errorf("list the sockets of process %d: no open file found", process)
	}
	var own []uint32
	for _, name := range files {
		target, err := os.Readlink(name)
		if err != nil {
			continue // closed since
		}
		if text, is := strings.CutPrefix(target, "socket:["); is {
			number, err := strconv.ParseUint(strings.TrimSuffix(text, "]"), 10, 32)
			if err != nil {
				return nil, fmt.Errorf("list the sockets of process %d: %w", process, err)
			}
			own = append(own, uint32(number))
		}
	}
	return own, nil
}

// numbersIn reads the numbers of all sockets in a table of the kernel; the file
// is missing where the kernel does not speak that protocol.
func numbersIn(path string) []uint32 {
	text, _ := os.ReadFile(path)
	var numbers []uint32
	column := -1
	for line := range strings.Lines(string(text)) {
		fields := strings.Fields(line)
		if column < 0 {
			// The head of the column names two values as one from "tx_queue" and "tr" on.
			if column = slices.IndexFunc(fields, func(f string) bool { return strings.EqualFold(f, "inode") }); column > 9 {
				column = 9
			}
			continue
		}
		if column >= len(fields) {
			continue
		}
		if number, err := strconv.ParseUint(fields[column], 10, 32); err == nil {
			numbers = append(numbers, uint32(number))
		}
	}
	return numbers
}

// localSocket is one end of a connection inside the computer.
type localSocket struct {
	name string // the path it listens at, or took from the socket that does
	peer uint32 // the other end, 0 if none

	listens bool
}

// localSockets asks the kernel for all local sockets (its interface sock_diag).
func localSockets() (map[uint32]localSocket, error) {
	const diagnosis, byFamily, allStates, nameAndPeer = 4, 20, 0xffffffff, 1 | 4
	request := struct {
		header           syscall.NlMsghdr
		family, protocol uint8
		_                uint16
		states, number   uint32
		show             uint32
		cookie           [2]uint32
	}{
		header: syscall.NlMsghdr{Type: byFamily, Flags: syscall.NLM_F_REQUEST | syscall.NLM_F_DUMP},
		family: syscall.AF_UNIX, states: allStates, show: nameAndPeer,
	}
	request.header.Len = uint32(unsafe.Sizeof(request))
	var message bytes.Buffer
	if err := binary.Write(&message, binary.NativeEndian, request); err != nil {
		return nil, err
	}
	socket, err := syscall.Socket(syscall.AF_NETLINK, syscall.SOCK_RAW, diagnosis)
	if err != nil {
		return nil, fmt.Errorf("ask the kernel for local sockets: %w", err)
	}
	defer syscall.Close(socket)
	if err := syscall.Sendto(socket, message.Bytes(), 0, &syscall.SockaddrNetlink{Family: syscall.AF_NETLINK}); err != nil {
		return nil, fmt.Errorf("ask the kernel for local sockets: %w", err)
	}
	return readLocalSockets(socket)
}

func readLocalSockets(socket int) (map[uint32]localSocket, error) {
	found := map[uint32]localSocket{}
	buffer := make([]byte, 1<<16)
	for {
		n, _, err := syscall.Recvfrom(socket, buffer, 0)
		if err != nil {
			return nil, fmt.Errorf("read the list of local sockets: %w", err)
		}
		messages, err := syscall.ParseNetlinkMessage(buffer[:n])
		if err != nil {
			return nil, fmt.Errorf("read the list of local sockets: %w", err)
		}
		for _, m := range messages {
			switch m.Header.Type {
			case syscall.NLMSG_DONE:
				return found, nil
			case syscall.NLMSG_ERROR:
				return nil, fmt.Errorf("read the list of local sockets: the kernel answers %v", syscall.Errno(-int32(binary.NativeEndian.Uint32(m.Data))))
			}
			number, s := readLocalSocket(m.Data)
			found[number] = s
		}
	}
}

// readLocalSocket reads one answer: 16 bytes about the socket, of which the
// third byte is its state and the second word its number, then attributes, each with its length and kind.
func readLocalSocket(data []byte) (uint32, localSocket) {
	const nameKind, peerKind, listening = 0, 2, 10
	s := localSocket{listens: data[2] == listening}
	number := binary.NativeEndian.Uint32(data[4:])
	for rest := data[16:]; len(rest) >= 4; {
		length, kind := int(binary.NativeEndian.Uint16(rest)), binary.NativeEndian.Uint16(rest[2:])
		if length < 4 || length > len(rest) {
			break
		}
		switch value := rest[4:length]; kind {
		case nameKind:
			s.name = string(value)
		case peerKind:
			s.peer = binary.NativeEndian.Uint32(value)
		}
		rest = rest[min((length+3)&^3, len(rest)):]
	}
	return number, s
}

func TestStrangeSockets_FindsWhatReachesOut(t *testing.T) {
	own := os.Getpid()
	inet, err := syscall.Socket(syscall.AF_INET, syscall.SOCK_DGRAM, 0)
	if err != nil {
		t.Skip("no internet socket can be made here: ", err)
	}
	defer syscall.Close(inet)
	if err := syscall.Bind(inet, &syscall.SockaddrInet4{Addr: [4]byte{127, 0, 0, 1}}); err != nil {
		t.Fatal(err)
	}
	path := fmt.Sprintf("@elsewhere-%d", own) // a name and no file
	connectLocal(t, path)
	peers, err := localSockets()
	if err != nil {
		t.Fatal(err)
	}
	strange, err := strangeSockets(own, peers)
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(strange, "\n")
	if !strings.Contains(all, "udp socket") || strings.Count(all, "elsewhere") != 1 || strings.Count(all, `to ""`) < 1 {
		t.Errorf("of an internet socket, a listening one and one connected to %q only this is told: %q", path, all)
	}
}

// connectLocal listens at a path and connects to it, until the test ends.
func connectLocal(t *testing.T, path string) {
	t.Helper()
	listening := localEnd(t)
	address := &syscall.SockaddrUnix{Name: path}
	if err := syscall.Bind(listening, address); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Listen(listening, 1); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Connect(localEnd(t), address); err != nil {
		t.Fatal(err)
	}
	accepted, _, err := syscall.Accept(listening)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { syscall.Close(accepted) })
}

func localEnd(t *testing.T) int {
	t.Helper()
	socket, err := syscall.Socket(syscall.AF_UNIX, syscall.SOCK_STREAM, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { syscall.Close(socket) })
	return socket
}
