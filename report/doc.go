// Package report turns results into what people read: one offline HTML page with
// drawings and charts, text tables for a terminal, JSON and CSV for other
// programs. It computes no acoustics. It takes what the engines and the search
// found and says it in plain words, with the recipe beside every figure.
//
// # What goes in
//
// A page's Report is everything that a page shows. The package never reads a clock, a
// file or the network: the date, the command line and the room file's text are
// given by the caller, so that the same input gives the same page to the byte.
// Each page is a package of its own; what they share stands in svg, chart, text, unit, data and html.
//
// # Units
//
// All values come in SI units as package model defines them. They leave in the
// unit.Style that was asked for: metric, imperial, or both; the JSON and the CSV are
// always SI with the unit in the key or the column's name. Levels are shown
// relative to the power mean of their own curve within the goal's band, so that
// two layouts at different distances can be laid over one another.
//
// # The page
//
// The page carries its own charting library (Apache ECharts, fetched by "make
// assets" into html/assets), its own style and script, and a policy that
// forbids every network access and every script but these two. Charts are built
// as go-echarts option structs, marshalled to JSON and put into data blocks;
// colours are names of the page's colour roles, which its script resolves for the
// light, the dark and the printed page. Drawings are SVG in the page itself.
package report
