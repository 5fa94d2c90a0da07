// Package chart makes the options of line charts over frequency. A [Chart] of plain curves goes in;
// JSON for the chart library of the page comes out. Only this package knows go-echarts.
//
// Frequencies are in Hz on a logarithmic axis.
package chart
