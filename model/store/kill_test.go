package store_test

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"

	"coilward/model"
	"coilward/model/collection"
	"coilward/model/store"
	"coilward/model/storetest"
)

const (
	writerArgument = "write-until-killed"
	kills          = 200
	killsInWrite   = 60 // of them at least, between the start of a write and its acknowledgement
	mostKills      = 1000
	killsPerFolder = 25
)

// announced is a command that says on the output that its write has begun, when
// it already has.
type announced struct {
	storetest.Put
	n int
}

func (a announced) Plan(v model.View) (model.Writes, error) {
	fmt.Printf("begin %d\n", a.n)
	return a.Put.Plan(v)
}

// mainWriter writes entries into the folder of its argument and acknowledges
// each, until it is killed.
func mainWriter(arguments []string) bool {
	if len(arguments) != 4 || arguments[1] != writerArgument {
		return false
	}
	var n int
	if _, err := fmt.Sscan(arguments[3], &n); err != nil {
		panic(err)
	}
	s, err := store.Open(arguments[2], options(storetest.NewClock()))
	if err != nil {
		panic(err)
	}
	c, err := collection.New(s, collection.Options{Now: time.Now})
	for ; err == nil; n++ {
		entry := storetest.Entry(numbered(n), animal, int64(n), n)
		if _, err = c.Do(announced{storetest.Put{Documents: []model.Document{entry}}, n}); err == nil {
			_, err = fmt.Printf("done %d\n", n)
		}
	}
	panic(err)
}

func numbered(n int) (id model.ID) {
	copy(id[:], fmt.Sprintf("%016d", n))
	return id
}

// TestKilledWhileWriting kills a writing process again and again: no entry that
// it acknowledged is lost, and the file is whole.
func TestKilledWhileWriting(t *testing.T) {
	if testing.Short() {
		t.Skip("starts some hundred processes")
	}
	random := rand.New(rand.NewPCG(1, 2))
	var folder string
	var k killer
	for n := 0; n < kills || k.inWrite < killsInWrite; n++ {
		if n == mostKills {
			t.Fatalf("only %d of %d kills hit a write", k.inWrite, n)
		}
		if n%killsPerFolder == 0 {
			folder, k.next = t.TempDir(), 0
		}
		// Two of three aim at a write, at different points of it.
		k.kill(t, folder, 1+random.IntN(5), n%3 != 0, time.Duration(random.IntN(400))*time.Microsecond)
		k.compare(t, folder)
	}
	t.Logf("%d kills: %d between start and acknowledgement (%d of these writes are there), %d between writes; %d entries acknowledged, none lost",
		k.inWrite+k.between, k.inWrite, k.committed, k.between, k.acknowledged)
}

type killer struct {
	next                    int  // the number of the next entry
	begun                   bool // the last write had begun, but was not acknowledged
	inWrite, between        int
	committed, acknowledged int
}

// kill starts a writer and kills it at a write or after an acknowledgement.
func (k *killer) kill(t *testing.T, folder string, writes int, inWrite bool, wait time.Duration) {
	t.Helper()
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	writer := exec.Command(program, writerArgument, folder, fmt.Sprint(k.next))
	writer.Stderr = os.Stderr
	output, err := writer.StdoutPipe()
	if err == nil {
		err = writer.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(output)
	for left := writes; left > 0; {
		if !k.hear(lines) {
			t.Fatalf("the writer ended by itself: %v", writer.Wait())
		}
		if k.begun == inWrite {
			left--
		}
	}
	if inWrite {
		time.Sleep(wait)
	}
	if err := writer.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	for k.hear(lines) {
	}
	if err := writer.Wait(); err == nil {
		t.Fatal("the writer ended by itself")
	}
	if k.begun {
		k.inWrite++
	} else {
		k.between++
	}
}

// hear reads one line of the writer; it reports false at the end.
func (k *killer) hear(lines *bufio.Reader) bool {
	line, err := lines.ReadString('\n')
	if err == io.EOF {
		return false
	}
	var n int
	if _, scanError := fmt.Sscanf(line, "begin %d", &n); scanError == nil {
		k.begun = true
	} else if _, scanError := fmt.Sscanf(line, "done %d", &n); scanError == nil {
		k.begun, k.next = false, n+1
		k.acknowledged++
	}
	return err == nil
}

// compare looks for every acknowledged entry. The one being written when the
// kill came may be there as a whole, or not at all.
func (k *killer) compare(t *testing.T, folder string) {
	t.Helper()
	good(t, file(folder))
	s, err := store.OpenReadOnly(file(folder))
	if err != nil {
		t.Fatal(err)
	}
	defer closeStore(t, s)
	c := over(t, s)
	n := 0
	err = c.View(func(v model.View) error {
		return v.All(model.TypeEntry, func(d model.Document) bool {
			if d.ID != numbered(n) || string(d.Body) != fmt.Sprint(n) {
				t.Errorf("entry %d is %s with body %s", n, d.ID, d.Body)
			}
			n++
			return true
		})
	})
	if err != nil || n < k.next || n > k.next+1 {
		t.Fatalf("%d entries are there, %d were acknowledged: %v", n, k.next, err)
	}
	if n > k.next {
		k.committed++
		k.next = n
	}
	k.begun = false
}
