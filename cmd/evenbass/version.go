package main

import "runtime/debug"

// version returns what this program was built from, as far as the build knows.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && (v == "" || v == "(devel)") {
			return s.Value[:min(12, len(s.Value))]
		}
	}
	return v
}
