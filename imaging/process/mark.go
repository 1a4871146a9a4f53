package process

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"os"
	"sync"
)

// Mark names one process. In files it is an object.
type Mark struct {
	PID   int    `json:"process"`
	Host  string `json:"host"`  // the computer's name, for people
	Place string `json:"place"` // where process numbers mean the same, in hex
}

// Here is the mark of this process.
func Here() Mark { return Mark{PID: os.Getpid(), Host: host(), Place: place()} }

// Gone tells that the process has certainly ended. It says no where that cannot
// be seen from here, and where another process has taken the number since.
func (m Mark) Gone() bool { return m.Place == place() && !alive(m.PID) }

// Token is a new random name, for what must be told apart from everything else.
func Token() string {
	var b [8]byte
	_, _ = rand.Read(b[:]) // never fails: it ends the program where there is no randomness
	return hex.EncodeToString(b[:])
}

var host = sync.OnceValue(func() string {
	name, err := os.Hostname()
	if err != nil {
		return "unknown"
	}
	return name
})

// place tells computers of one name apart, and on Linux also the times that one
// was started and the containers in it, which number their processes alike.
var place = sync.OnceValue(func() string {
	boot, _ := os.ReadFile("/proc/sys/kernel/random/boot_id") // absent elsewhere
	container, _ := os.Readlink("/proc/self/ns/pid")
	sum := sha256.Sum256([]byte(host() + "\n" + string(boot) + "\n" + container))
	return hex.EncodeToString(sum[:4])
})
