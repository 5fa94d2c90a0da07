package arguments

import (
	"slices"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/terminal"
)

// place is a command with flags of several kinds.
func place() *cli.Command {
	return &cli.Command{Name: "place", Flags: []cli.Flag{
		&cli.StringFlag{Name: "o"}, &cli.StringFlag{Name: "json"}, &cli.Int64Flag{Name: "seed"}, &cli.IntFlag{Name: "draws"}, UnitsFlag(),
	}}
}

func TestFlagsFirst(t *testing.T) {
	place := place()
	for _, c := range []struct{ in, want string }{
		{"room.yaml -o page.html", "-o page.html -- room.yaml"},
		{"-o page.html room.yaml --seed 3", "-o page.html --seed 3 -- room.yaml"},
		{"room.yaml --draws -1", "--draws -1 -- room.yaml"},
		{"-o=page.html room.yaml", "-o=page.html -- room.yaml"},
		{"-o - room.yaml", "-o - -- room.yaml"},
		{"-- -o", "-- -o"},
	} {
		got, err := FlagsFirst(place, strings.Fields(c.in))
		if err != nil || !slices.Equal(got, strings.Fields(c.want)) {
			t.Errorf("%s gives %v, %v; want %s", c.in, got, err, c.want)
		}
	}
	for _, in := range []string{"room.yaml -o", "room.yaml --json", "-o --json x.json room.yaml", "-o --json=x room.yaml", "--seed -- room.yaml"} {
		if got, err := FlagsFirst(place, strings.Fields(in)); err == nil || terminal.ExitCode(err) != terminal.ExitUsage {
			t.Errorf("%s gives %v, %v; want a usage error", in, got, err)
		}
	}
}

func TestUnknownFlag(t *testing.T) {
	place := place()
	for name, want := range map[string]string{
		"sead": "there is no flag --sead; did you mean --seed?",
		"unit": "there is no flag --unit; did you mean --units?",
		"hepl": "there is no flag --hepl; did you mean --help?",
		"xyz":  "there is no flag --xyz",
		"wall": "there is no flag --wall", // three letters off --help
	} {
		if got := unknownFlag(place, name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// The command line can be given again: it is quoted for a shell.
func TestQuoted(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"wool 1 m": "'wool 1 m'", "a'b": `'a'\''b'`, "$(x) `y`": "'$(x) `y`'",
	} {
		if got := Quoted(text); got != want {
			t.Errorf("%q is quoted %s, want %s", text, got, want)
		}
	}
}
