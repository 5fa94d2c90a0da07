package study

import (
	"context"
	"errors"
	"evenbass/optimize/testroom"
	"testing"
)

// Whoever is stopped before the first stage gets empty stages and the reason, never nil.
func TestPlanStagesStopped(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	p := testroom.Read(t, "spare-room")
	for name, settings := range map[string]StageSettings{"moving": {}, "staying": {Stay: true}} {
		switch s, err := PlanStages(ctx, p, settings); {
		case s == nil:
			t.Errorf("%s: nil stages", name)
		case !errors.Is(err, context.Canceled):
			t.Errorf("%s: %v, want the context's error", name, err)
		case s.Plan != nil && len(s.Plan.Stages) > 0:
			t.Errorf("%s: %d stages", name, len(s.Plan.Stages))
		}
	}
}
