package deliver

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// TestFolderTakenAway: of runs that write into a folder which none of them found, some fail and
// take the folder away again. The others write all the same.
func TestFolderTakenAway(t *testing.T) {
	t.Chdir(t.TempDir())
	data := Seal([]byte("as written\n"), "# ", "")
	stopped := errors.New("stopped")
	for round := range 25 {
		if err := os.RemoveAll("cache"); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join("cache", "of", "proofs", "a.txt")
		ended := make(chan error)
		const runs = 8
		for i := range runs {
			go func() {
				if i%2 == 0 {
					err := Rules{}.put(filepath.Join(filepath.Dir(name), "b.txt"), data, func(*os.Root, string, string) error { return stopped })
					if errors.Is(err, stopped) || errors.Is(err, ErrBusy) {
						err = nil
					}
					ended <- err
					return
				}
				err := ErrBusy
				for errors.Is(err, ErrBusy) { // as who keeps a proof does
					_, err = Rules{}.Write(name, list, data)
				}
				ended <- err
			}()
		}
		for range runs {
			if err := <-ended; err != nil {
				t.Fatalf("round %d: %v", round, err)
			}
		}
		if _, err := os.Stat(name); err != nil {
			t.Fatalf("round %d: nobody wrote: %v", round, err)
		}
	}
}
