package text

import (
	"math"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/report/unit"
)

// Every kind of rule has words of its own, and names what tells it from others.
func TestRuleText(t *testing.T) {
	seen := map[string]model.RuleKind{}
	for kind := model.SpeakerRear; kind <= model.AngleWide; kind++ {
		words := RuleText(model.Rule{Kind: kind, Side: model.RightSide, Name: "desk"})
		if other, ok := seen[words]; ok || words == "" {
			t.Errorf("kind %d reads %q, and so does kind %d", kind, words, other)
		}
		seen[words] = kind
	}
	for want, r := range map[string]model.Rule{
		`right speaker's box is inside "desk"`:               {Kind: model.SpeakerObstacle, Side: model.RightSide, Name: "desk"},
		"the left woofer is too close to the ears at seat 2": {Kind: model.SpeakerEars, Seat: 2},
	} {
		if got := RuleText(r); got != want {
			t.Errorf("%+v reads %q, want %q", r, got, want)
		}
	}
	if got := RuleText(model.Rule{}); got != "" {
		t.Errorf("no rule reads %q", got)
	}
}

// Angles are told in degrees and lengths in the reader's units.
func TestBreachAmount(t *testing.T) {
	for want, b := range map[string]model.Breach{
		"13°": {Amount: 0.28, Angle: 13 * math.Pi / 180}, "0.4°": {Angle: 0.4 * math.Pi / 180}, "9.3 cm": {Amount: 0.093}, "12 cm": {Amount: 0.12},
	} {
		if got := BreachAmount(b, unit.Metric); got != want {
			t.Errorf("%+v reads %q, want %q", b, got, want)
		}
	}
}

// What prevents building a treatment is told in the reader's units alone.
func TestObstructionText(t *testing.T) {
	deep := model.Obstruction{Kind: model.TooDeep, Wall: "back wall", Depth: 0.4, Allowed: 0.3}
	for style, want := range map[unit.Style]string{
		unit.Metric:   "stands 40 cm out from the back wall, where 30 cm are allowed",
		unit.Imperial: "stands 1 ft 3 3/4 in out from the back wall, where 11 3/4 in are allowed",
	} {
		if got := ObstructionText(deep, style); got != want {
			t.Errorf("%v: %q, want %q", style, got, want)
		}
	}
	seen := map[string]bool{"": true}
	for kind := model.BeyondCover; kind <= model.InSwing; kind++ {
		words := ObstructionText(model.Obstruction{Kind: kind, Name: "x", Wall: "back wall"}, unit.Imperial)
		if seen[words] || strings.Contains(words, "cm") {
			t.Errorf("kind %d reads %q", kind, words)
		}
		seen[words] = true
	}
}
