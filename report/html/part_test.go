package html

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"evenbass/report/text"
)

// bodyWithIDs is a page that names its elements in every way that pages do.
var bodyWithIDs = fstest.MapFS{
	"body.gohtml": {Data: []byte(`{{define "body"}}{{template "contents" .Contents}}<section aria-labelledby="top more"><h2 id="top">{{.Heading}}</h2>` +
		`<a href="#more">x</a><b id="more"></b><i clip-path="url(#cut)"></i><div role="region" aria-label="T"></div></section>{{template "cautions" .}}{{end}}`)},
	"body.css": {Data: []byte(".only-once {}\n")},
}

// A part keeps what its page says, under ids of its own, and leaves out what the longer page says
// for all parts.
func TestNewPart(t *testing.T) {
	view := &plain{Frame{Heading: `a id="b" <c>`, Contents: []Link{{"top", "Top"}}}}
	view.SetCautions([]text.Caution{{Title: "Heavy"}})
	part, err := NewPart("one", "First", false, view, bodyWithIDs)
	if err != nil {
		t.Fatal(err)
	}
	const want = `<section aria-labelledby="one-top one-more"><h2 id="one-top">a id=&#34;b&#34; &lt;c&gt;</h2>` +
		`<a href="#one-more">x</a><b id="one-more"></b><i clip-path="url(#one-cut)"></i><div role="region" aria-label="First: T"></div></section>`
	if got := string(part.Body); got != want {
		t.Errorf("the part is\n%s\nwant\n%s", got, want)
	}
	asIs, err := NewPart("two", "Second", true, view, bodyWithIDs)
	if err != nil || !strings.Contains(string(asIs.Body), `id="top"`) {
		t.Errorf("as it is, the part is %s, %v", asIs.Body, err)
	}
	whole := &plain{}
	whole.SetParts([]Part{part, asIs})
	if len(whole.Cautions) != 1 || len(whole.Contents) != 2 {
		t.Errorf("two parts give the cautions %v and the contents %v", whole.Cautions, whole.Contents)
	}
	var page bytes.Buffer
	if err := Write(&page, whole, append(Folders([]Part{part, asIs}), body)...); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(page.String(), ".only-once"); n != 1 {
		t.Errorf("a style sheet of both parts is there %d times", n)
	}
}

// Charts are drawn by a script that knows one page only.
func TestNewPartRefusesCharts(t *testing.T) {
	if _, err := NewPart("one", "First", false, &charted{}, chartBody); err == nil {
		t.Error("a page with charts became a part")
	}
}
