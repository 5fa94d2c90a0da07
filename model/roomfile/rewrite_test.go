package roomfile

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
)

var commentText = regexp.MustCompile(`(?m)(?:^| )#.*$`)

var aboveNow = regexp.MustCompile(`(?m)^ *#.*\n( *now:)`)

// comments returns the comments of a text in order.
func comments(text string) string {
	var list []string
	for _, c := range commentText.FindAllString(text, -1) {
		list = append(list, strings.TrimSpace(c))
	}
	return strings.Join(list, "\n")
}

// rewritten returns a text with another project in it, which must read back.
func rewritten(t *testing.T, text string, p *model.Project) string {
	t.Helper()
	var b strings.Builder
	kept, err := Rewrite(&b, text, p)
	if err != nil || !kept {
		t.Fatalf("kept %v, %v:\n%s", kept, err, b.String())
	}
	back, err := Read(strings.NewReader(b.String()), "rewritten")
	if err != nil {
		t.Fatalf("%v\n%s", err, b.String())
	}
	back.Warnings, p.Warnings = nil, nil
	if d := cmp.Diff(p, back, noise); d != "" {
		t.Errorf("reads back otherwise: %s\n%s", d, b.String())
	}
	return b.String()
}

// Every room turns to every wall and takes a new piece without the loss of a comment.
func TestRewriteKeepsComments(t *testing.T) {
	t.Parallel()
	turned := 0
	for _, path := range demoRooms(t) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		p := readText(t, text)
		layer, err := phrase.Layer("wool 100 mm 6 kPa·s/m²")
		if err != nil {
			t.Fatal(err)
		}
		more, err := p.With(&model.Option{Add: []model.Treatment{{
			Name: "stage 1", Patch: model.Patch{Face: model.Right, Along: 0.6, Width: 0.15, Height: 0.5}, Layers: []model.Layer{layer},
		}}})
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		more.Options = p.Options
		slices.SortStableFunc(more.Room.Treatments, func(a, b model.Treatment) int { // a file has furniture last
			return a.Box.Item - b.Box.Item
		})
		for name, q := range map[string]*model.Project{
			"left": facing(p, model.Left), "back": facing(p, model.Back), "more": more, "same": p,
		} {
			if q.Validate() != nil {
				continue // a room that cannot be turned that way
			}
			if name == "left" || name == "back" {
				turned++
			}
			want := text
			if !q.Speakers.Placed {
				want = aboveNow.ReplaceAllString(text, "$1") // goes with the key that it stands above
			}
			if d := cmp.Diff(comments(want), comments(rewritten(t, text, q))); d != "" {
				t.Errorf("%s, %s: %s", path, name, d)
			}
		}
	}
	if turned < 12 {
		t.Errorf("turned %d rooms, want 12 at least", turned)
	}
}

// facing returns a project turned as nobody has placed speakers in it yet.
func facing(p *model.Project, wall model.Face) *model.Project {
	q := p.Facing(wall)
	q.Speakers.Placed, q.Speakers.Left, q.Speakers.Right = false, r3.Vec{}, r3.Vec{}
	return q
}

// What did not change stays as its owner wrote it: units, order, style.
func TestRewriteChangesOnlyWhatChanged(t *testing.T) {
	t.Parallel()
	const text = `# Den, measured in May
seats: [{name: chair, at: [5 ft 11 in, 1.74 m, 1.2 m]}]   # the old one

room:
  name: Den
  length: 15 ft 2 in   # at the skirting
  width: 3.48 m
  height: 2.44 m
walls: {front: concrete, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
speakers:
  # on stands
  now: {left: [0.6 m, 1.0 m, 1.2 m], right: [0.6 m, 2.48 m, 1.2 m]}
  box: {depth: 28 cm, width: 21 cm, height: 34 cm}
`
	p := readText(t, text)
	p.Room.Size.Y, p.Speakers.Placed = 3.5, false
	p.Listening.AlsoFace = []model.Face{model.Back}
	const want = `# Den, measured in May
seats: [{name: chair, at: [5 ft 11 in, 1.74 m, 1.2 m]}] # the old one

room:
  name: Den
  length: 15 ft 2 in # at the skirting
  width: 3.5 m
  height: 2.44 m
walls: {front: concrete, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
speakers:
  box: {depth: 28 cm, width: 21 cm, height: 34 cm}
listening:
  also_face: [back]
`
	p.Speakers.Left, p.Speakers.Right = defaults().Speakers.Left, defaults().Speakers.Right
	if d := cmp.Diff(want, rewritten(t, text, p)); d != "" {
		t.Error(d)
	}
}

// A text that cannot be kept gives way to a file written anew.
func TestRewriteWritesAnew(t *testing.T) {
	t.Parallel()
	p := readText(t, valid)
	for _, text := range []string{"", "room: [", "just words", strings.Replace(valid, "Den", "Den, hight: 1 m", 1)} {
		var b strings.Builder
		if kept, err := Rewrite(&b, text, p); kept || err != nil || b.String() != written(t, p) {
			t.Errorf("%q: kept %v, %v", text, kept, err)
		}
	}
}
