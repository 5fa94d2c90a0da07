// Package reporttest holds what the tests of all pages share: a room of our own invention
// with a layout, goldens, what every page promises, and a headless browser without
// network. The room's curves come from a few mirror images and one reflection factor,
// which is enough to look like a room; nothing here tests acoustics.
package reporttest
