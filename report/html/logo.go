package html

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"errors"
	"fmt"
	"html/template"
	"image/png"
	"io"
	"slices"
	"strings"
)

// Limits of a logo's file and picture.
const (
	logoBytes  = 1 << 20
	logoPixels = 4 << 20
)

// Logo turns a PNG or SVG file into an address that holds the picture itself. Of an SVG only
// shapes, text and plain colours stay: no script, no style sheet, nothing that is fetched. A PNG
// is written anew without anything but its pixels.
func Logo(file []byte) (template.URL, error) {
	switch {
	case len(file) > logoBytes:
		return "", fmt.Errorf("the logo has %d kB; keep it below %d", len(file)>>10, logoBytes>>10)
	case bytes.HasPrefix(file, []byte("\x89PNG")):
		return pngLogo(file)
	case bytes.Contains(file, []byte("<svg")):
		return svgLogo(file)
	}
	return "", errors.New("the logo is neither a PNG nor an SVG file")
}

// Picture takes an address that [Logo] made for one.
func Picture(address string) template.URL { return template.URL(address) }

func pngLogo(file []byte) (template.URL, error) {
	size, err := png.DecodeConfig(bytes.NewReader(file))
	if err == nil && size.Width*size.Height > logoPixels {
		return "", fmt.Errorf("the logo has %d × %d pixels; make it smaller", size.Width, size.Height)
	}
	picture, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		return "", fmt.Errorf("the logo is not a whole PNG file: %w", err)
	}
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		return "", fmt.Errorf("writing the logo: %w", err)
	}
	return dataURL("image/png", out.Bytes()), nil
}

func dataURL(kind string, data []byte) template.URL {
	return template.URL("data:" + kind + ";base64," + base64.StdEncoding.EncodeToString(data))
}

// What of an SVG stays: elements, and attributes, of which none may point anywhere but into the
// picture.
var (
	svgElements = strings.Fields("svg g path rect circle ellipse line polyline polygon text tspan defs linearGradient radialGradient stop clipPath title desc")
	svgAttrs    = strings.Fields(`id viewBox width height x y x1 y1 x2 y2 cx cy r rx ry fx fy dx dy d points transform fill fill-opacity fill-rule clip-path clip-rule
		stroke stroke-width stroke-opacity stroke-linecap stroke-linejoin stroke-dasharray stroke-miterlimit opacity offset stop-color stop-opacity
		gradientUnits gradientTransform spreadMethod clipPathUnits preserveAspectRatio font-family font-size font-weight font-style text-anchor letter-spacing`)
)

// svgLogo writes an SVG anew from what may stay of it.
func svgLogo(file []byte) (template.URL, error) {
	in := xml.NewDecoder(bytes.NewReader(file))
	var out bytes.Buffer
	depth, skipped := 0, 0 // open elements that stay; open ones within one that does not
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return "", fmt.Errorf("the logo is not a whole SVG file: %w", err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			if skipped > 0 || !slices.Contains(svgElements, t.Name.Local) {
				skipped++
				continue
			}
			writeElement(&out, t, depth == 0)
			depth++
		case xml.EndElement:
			if skipped > 0 {
				skipped--
				continue
			}
			depth--
			fmt.Fprintf(&out, "</%s>", t.Name.Local)
		case xml.CharData:
			if skipped == 0 && depth > 0 {
				xml.EscapeText(&out, t) //nolint:errcheck // a buffer takes everything
			}
		}
	}
	if !bytes.HasPrefix(out.Bytes(), []byte("<svg")) {
		return "", errors.New("the logo holds no picture that may be shown")
	}
	return dataURL("image/svg+xml", out.Bytes()), nil
}

// writeElement begins an element with those of its attributes that may stay.
func writeElement(out *bytes.Buffer, t xml.StartElement, root bool) {
	out.WriteString("<" + t.Name.Local)
	if root {
		out.WriteString(` xmlns="http://www.w3.org/2000/svg"`)
	}
	for _, a := range t.Attr {
		if a.Name.Space != "" || !slices.Contains(svgAttrs, a.Name.Local) || leadsAway(a.Value) {
			continue
		}
		out.WriteString(" " + a.Name.Local + `="`)
		xml.EscapeText(out, []byte(a.Value)) //nolint:errcheck // a buffer takes everything
		out.WriteString(`"`)
	}
	out.WriteString(">")
}

// leadsAway reports whether a value names anything outside the picture.
func leadsAway(value string) bool {
	rest := strings.ToLower(strings.Join(strings.Fields(value), ""))
	rest = strings.ReplaceAll(rest, "url(#", "")
	return strings.Contains(rest, "url(") || strings.Contains(rest, ":") || strings.Contains(rest, "@") || strings.Contains(rest, `\`)
}
