package batch

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/report/html"
	"evenbass/report/place"
)

// Whatever the bytes, as a damaged folder may hold them: no panic. What is taken for the row of an
// earlier run can be printed and written in every form, and no cell begins a formula.
func FuzzReadRow(f *testing.F) {
	in := searchedRoom()
	in.Batch = Note{Fingerprint: "abc", Row: NewRow(&in)}
	var whole bytes.Buffer
	if err := place.JSON(&whole, in); err != nil {
		f.Fatal(err)
	}
	f.Add(whole.Bytes())
	const note = `{"format": "` + place.FormatName + `", "batch": {"fingerprint": "x", "row": `
	for _, row := range []string{
		`{"best_db": 1}`, `{"best_db": -1e300, "now_db": 1e300, "room": "=1+1", "fault": "\u001b[31m"}`, `{"best_db": 3, "curves": {"frequency_hz": [1, 2], "best_db": [1]}}`,
		`{"best_db": 3, "curves": {"from_hz": 0, "to_hz": 0, "frequency_hz": [], "best_db": []}}`, `{"best_db": 3, "places": {"left_m": [0, 0]}, "card": {}}`,
		`{"best_db": 3, "page": "../../x.html", "file": "a\nb", "warnings": -1}`,
	} {
		f.Add([]byte(note + row + "}}"))
	}
	f.Add([]byte("{"))
	f.Fuzz(func(t *testing.T, data []byte) {
		row, _, err := ReadRow(bytes.NewReader(data))
		if err != nil {
			return
		}
		if row.Best == nil || math.IsNaN(float64(*row.Best)) {
			t.Fatalf("taken without a result: %+v", row)
		}
		printed := Text([]Row{row}, 1)
		if clean := model.Printable(strings.ReplaceAll(printed, "\n", " ")); clean != strings.ReplaceAll(printed, "\n", " ") {
			t.Errorf("prints control characters: %q", printed)
		}
		var page, table, js bytes.Buffer
		for _, err := range []error{Index(&page, html.Run{}, []Row{row}, 1), CSV(&table, []Row{row}), JSON(&js, "x", []Row{row}, 1)} {
			if err != nil {
				t.Fatalf("%v, of %+v", err, row)
			}
		}
		if s := page.String(); strings.Contains(s, "NaN") && !bytes.Contains(data, []byte("NaN")) || strings.Contains(s, "Infinity,") {
			t.Errorf("the index draws what is no number, of %+v", row)
		}
	})
}
