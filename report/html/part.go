package html

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"evenbass/report/text"
)

// Part is the body of a page as one part of a longer page: without contents, cautions and how to
// get it again, which the longer page has for all its parts.
type Part struct {
	ID, Title string
	Lead      string // under the title; "" for none
	Body      template.HTML
	Cautions  []text.Caution

	folders []fs.FS
}

// NewPart makes a part of a page's view and folders, as they go to [Write]. The part's id stands
// before every id in it and its title before the name of every region, so that two parts may use the
// same ones. Scripts that find their elements
// by id need the ids as they are: asIs leaves them so, which one part of a page may ask for.
func NewPart(id, title string, asIs bool, view framed, folders ...fs.FS) (Part, error) {
	p := Part{ID: id, Title: title, Cautions: view.Base().Cautions, folders: folders}
	t, err := parsed(slices.Concat([]fs.FS{Folder(pageFiles, "frame"), Folder(pageFiles, "frame/fold")}, folders, []fs.FS{Folder(pageFiles, "frame/part")}))
	if err != nil {
		return p, err
	}
	var body bytes.Buffer
	if err := t.ExecuteTemplate(&body, "body", view); err != nil {
		return p, fmt.Errorf("report: part %s: %w", id, err)
	}
	if hasChart(body.Bytes()) {
		return p, fmt.Errorf("report: the part %q has charts, which only a page of its own draws", id)
	}
	text := region.ReplaceAllString(body.String(), "${1}"+template.HTMLEscapeString(title)+": ")
	if !asIs {
		text = named(text, id+"-")
	}
	p.Body = template.HTML(text)
	return p, nil
}

// Places where a page names an id, or a region for readers of a screen. Text holds none of them, since
// its quotes are escaped.
var (
	region       = regexp.MustCompile(`( role="region" aria-label=")`)
	idAttribute  = regexp.MustCompile(`( id="| href="#|url\(#)`)
	idsAttribute = regexp.MustCompile(` aria-(?:labelledby|describedby|controls)="[^"]*"`)
	idStart      = regexp.MustCompile(`(["\s])([^"\s=]+)`)
)

// named puts a prefix before every id of a page's body, and before every mention of one.
func named(body, prefix string) string {
	body = idAttribute.ReplaceAllString(body, "${1}"+prefix)
	return idsAttribute.ReplaceAllStringFunc(body, func(list string) string {
		at := strings.Index(list, `"`)
		return list[:at] + idStart.ReplaceAllString(list[at:], "${1}"+prefix+"${2}")
	})
}

// Folders are those of all parts, for [Write]. The page's own folder goes after them.
func Folders(parts []Part) []fs.FS {
	var all []fs.FS
	for _, p := range parts {
		all = append(all, p.folders...)
	}
	return all
}

// SetParts gives a page its contents and the cautions of all its parts, each once.
func (f *Frame) SetParts(parts []Part) {
	var cautions []text.Caution
	for _, p := range parts {
		f.Contents = append(f.Contents, Link{ID: p.ID, Text: p.Title})
		for _, c := range p.Cautions {
			if !slices.Contains(cautions, c) {
				cautions = append(cautions, c)
			}
		}
	}
	f.SetCautions(cautions)
}
