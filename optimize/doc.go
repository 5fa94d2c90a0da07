// Package optimize searches for the best places of loudspeakers and listener
// under the constraints of a project. It sees engines and fields, never how they
// work, and prints nothing.
package optimize
