package whatif

import (
	"testing"

	"evenbass/optimize/testroom"
)

// In a room that is its own mirror image, so is every ready-made option.
func TestReadyMadeIsSymmetric(t *testing.T) {
	t.Parallel()
	p := testroom.Symmetric(t, 3.28)
	for _, name := range ReadyMadeNames() {
		options, err := ReadyMade(name, p)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range options {
			if !testroom.MirrorImage(&p.Room, o.Add) {
				t.Errorf("%s: %s is on one side only", name, o.Name)
			}
		}
	}
}
