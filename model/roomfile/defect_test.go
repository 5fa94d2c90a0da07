package roomfile

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

// A second room behind the mark that ends a document is refused as one behind a header is.
func TestSecondDocumentIsRefused(t *testing.T) {
	t.Parallel()
	second := strings.Replace(valid, "Den", "Attic", 1)
	for name, text := range map[string]string{
		"end mark":            valid + "...\n" + second,
		"end mark and header": valid + "...\n---\n" + second,
		"header":              valid + "---\n" + second,
		"end mark, then list": valid + "...\n- stray\n",
	} {
		f := faultsOf(t, strings.NewReader(text))[0]
		if !strings.Contains(f.What, "second document") || f.Line < 5 || f.Line > 7 {
			t.Errorf("%s: %d: %s", name, f.Line, f.What)
		}
	}
	for name, text := range map[string]string{
		"end mark":              valid + "...\n",
		"end mark and comments": valid + "...\n# the end\n",
	} {
		if _, err := Read(strings.NewReader(text), name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Zero stands for "not given" in the model, so the file must not take it as a value.
func TestZeroIsNotTheDefault(t *testing.T) {
	t.Parallel()
	for path, text := range map[string]string{
		"room.temperature":   strings.Replace(valid, "name: Den", "temperature: 0 K", 1),
		"speakers.low_limit": strings.Replace(valid, "{box:", "{low_limit: 0 Hz, box:", 1),
		"listening.balance":  valid + "listening: {balance: 0 m}\n",
	} {
		if f := faultsOf(t, strings.NewReader(text))[0]; f.Path != path || !strings.Contains(f.What, "zero") {
			t.Errorf("%s: %s: %s", path, f.Path, f.What)
		}
	}
	if _, err := quantity.ParseTemperature("-273.15 °C"); err == nil {
		t.Error("absolute zero is taken as a temperature")
	}
}

// Sums and differences of lengths come out as somebody would write them.
func TestWrittenLengthsAreClean(t *testing.T) {
	t.Parallel()
	a, b := 0.48, 1.2
	if got := lengthValue.format(a + b); got != "1.68 m" {
		t.Errorf("%v m is written %q", a+b, got)
	}
	text := valid + "treatments: [{name: rear, wall: back, from: 1.1 m, layers: [wool 100 mm 6 kPa·s/m²]}]\n"
	p, err := Read(strings.NewReader(text), "rest")
	if err != nil {
		t.Fatal(err)
	}
	if got := p.Room.Treatments[0].Patch.Width; got != 2.38 {
		t.Errorf("what is left of 3.48 m behind 1.1 m is %v m", got)
	}
	tr, err := phrase.Treatment("left wall 0.1 m to 0.8 m, wool 100 mm 6 kPa·s/m²", &p.Room)
	if err != nil || tr.Patch.Width != 0.7 {
		t.Errorf("0.1 m to 0.8 m is %v m wide: %v", tr.Patch.Width, err)
	}
	if out := written(t, p.Facing(model.Left)); strings.Contains(out, "00000") || strings.Contains(out, "99999") {
		t.Errorf("written with noise:\n%s", out)
	}
}

// A name in an error is shown as its owner wrote it, and the caret stands below the fault
// whatever the width of the characters before it.
func TestNamesInErrors(t *testing.T) {
	t.Parallel()
	name := "می\u200cخواهم 👨\u200d👩\u200d👧"
	text := strings.Replace(valid, "front: concrete", "front: "+name, 1)
	if f := faultsOf(t, strings.NewReader(text))[0]; !strings.Contains(f.What, name) {
		t.Errorf("says %s, want the name %s", f.What, name)
	}
	text = strings.Replace(valid, "name: Den, length: 4.62 m", "name: 部屋, length: 4.62", 1)
	_, err := Read(strings.NewReader(text), "wide")
	lines := strings.Split(err.Error(), "\n")
	if got, want := strings.Index(lines[2], "^"), len("    1 | room: {name: ")+4+len(", length: "); got != want {
		t.Errorf("caret in column %d, want %d:\n%s", got, want, err)
	}
	text = strings.Replace(valid, "Den, length: 4.62 m", "\"a\u202eb\", length: 4.62", 1)
	if _, err := Read(strings.NewReader(text), "override"); strings.Contains(err.Error(), "\u202e") {
		t.Errorf("an override of the direction reaches the terminal: %q", err)
	}
}
