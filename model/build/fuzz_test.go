package build_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenbass/model/build"
	"evenbass/model/roomfile"
)

// Whatever stands under stock: what the room file's reader takes can be planned with, or the plan says
// why not.
func FuzzStock(f *testing.F) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "room", "planned-room.yaml"))
	if err != nil {
		f.Fatal(err)
	}
	before, rest, _ := strings.Cut(string(data), "\nstock:\n")
	own, after, ok := strings.Cut(rest, "\noptions:\n")
	if !ok {
		f.Fatal("the room has no stock before its options")
	}
	for _, text := range []string{
		own, "  {}", "  batts: [{material: wool 6 kPa·s/m², size: 100 mm x 100 mm x 5 mm, have: 100000}]",
		"  batts: [{material: wool 6 kPa·s/m², size: 20 m x 3 m x 600 mm, per_pack: 1000, price: 0}]\n  passage: {width: 0.3 m, height: 0.3 m, longest: 0.3 m}",
		"  films: [{material: film 100 µm, size: 0.1 m x 0.1 m}]\n  timber: [{size: 0.2 m x 4 mm x 3 mm}]",
		"  rental: yes\n  bags: [{material: film 1 µm, size: 0.1 m x 1000 m, have: 1}]\n  cloths: [{size: 20 m x 1000 m, price: 1e300}]",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4000 {
			t.Skip()
		}
		p, err := roomfile.Read(strings.NewReader(before+"\nstock:\n"+text+"\noptions:\n"+after), "fuzz")
		if err != nil {
			return
		}
		plan, err := build.Make(p)
		if err == nil && len(plan.Pieces) == 0 || err != nil && err.Error() == "" {
			t.Errorf("%q: no pieces and no reason, %v", text, err)
		}
	})
}
