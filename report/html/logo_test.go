package html

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"
)

// pictureOf decodes an address that holds a picture.
func pictureOf(t *testing.T, address, kind string) string {
	t.Helper()
	text, ok := strings.CutPrefix(address, "data:"+kind+";base64,")
	if !ok {
		t.Fatalf("the address is %.60s", address)
	}
	b, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// Of an SVG, shapes stay, and whatever runs, styles, or points out of the picture goes.
func TestSVGLogo(t *testing.T) {
	const file = `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x "y">]>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9" onload="alert(1)">
<style>@import url(x)</style><script>alert(2)</script><foreignObject><b>x</b></foreignObject>
<image xlink:href="https://example.org/x.png"/><use href="#a"/><a href="javascript:alert(3)"><rect width="1" height="1"/></a>
<defs><linearGradient id="g"><stop offset="0" stop-color="#036"/></linearGradient></defs>
<rect id="a" width="9" height="4" fill="url(#g)" style="fill:url(http://x)"/><circle r="2" fill="url(http://example.org/#g)"/>
<text x="1" y="8">A &amp; B</text></svg>`
	address, err := Logo([]byte(file))
	if err != nil {
		t.Fatal(err)
	}
	got := pictureOf(t, string(address), "image/svg+xml")
	for _, want := range []string{`fill="url(#g)"`, `<circle r="2">`, "A &amp; B", `viewBox="0 0 9 9"`, `<stop offset="0" stop-color="#036">`} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is gone: %s", want, got)
		}
	}
	for _, not := range []string{"alert", "script", "style", "import", "example", "foreign", "image", "onload", "<use", "<a", "DOCTYPE", "ENTITY"} {
		if strings.Contains(got, not) {
			t.Errorf("%q stayed: %s", not, got)
		}
	}
}

// A PNG keeps its pixels and nothing else.
func TestPNGLogo(t *testing.T) {
	picture := image.NewNRGBA(image.Rect(0, 0, 3, 2))
	picture.Set(1, 1, color.NRGBA{R: 200, A: 255})
	var file bytes.Buffer
	if err := png.Encode(&file, picture); err != nil {
		t.Fatal(err)
	}
	address, err := Logo(append(file.Bytes(), "<script>trailing</script>"...))
	if err != nil {
		t.Fatal(err)
	}
	got := pictureOf(t, string(address), "image/png")
	back, err := png.Decode(strings.NewReader(got))
	if err != nil || back.Bounds() != picture.Bounds() || back.At(1, 1) != picture.At(1, 1) || strings.Contains(got, "trailing") {
		t.Errorf("the picture is %v, %v", back, err)
	}
}

func TestLogoRefused(t *testing.T) {
	for name, file := range map[string][]byte{
		"text":       []byte("hello"),
		"broken svg": []byte("<svg><rect></svg>"),
		"no svg":     []byte("<html><svg/></html>x"),
		"broken png": []byte("\x89PNG\r\n\x1a\nxxxx"),
		"large":      bytes.Repeat([]byte("<svg>"), 300000),
	} {
		if address, err := Logo(file); err == nil {
			t.Errorf("%s: taken as %s", name, address)
		}
	}
}

// The title block, the date and the notes are the owner's words and stay text.
func TestTitles(t *testing.T) {
	var v plain
	v.Heading = "Spare room"
	run := Run{File: "a.yaml", Hash: Hash("x"), Version: "1", Engine: "mode", Seed: "7"}
	run.Titles.Title, run.Titles.Client, run.Titles.Notes = "First <b>draft</b>", strings.Repeat("long ", 40), []string{"a\u202eb"}
	v.SetRun(run, "room file")
	var b bytes.Buffer
	if err := Render(&b, &v, "", body); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"<h1><bdi>First &lt;b&gt;draft&lt;/b&gt;</bdi></h1>", "<dt>Room</dt><dd><bdi>Spare room</bdi></dd>", "<dt>Client</dt>",
		"evenbass 1 · engine mode · seed 7 · room file a.yaml, SHA-256 2d711642b726b044", // sha256sum of "x"
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is missing", want)
		}
	}
	if strings.Contains(b.String(), "\u202e") || strings.Contains(b.String(), "<img") {
		t.Error("a character that turns text round, or a picture that nobody gave")
	}
}
