package plan

import (
	"context"

	"evenbass/model"
	"evenbass/optimize/study"
	"evenbass/optimize/whatif"
)

// readyMade is the ready-made comparison that shows what could be built where a room file has
// neither options nor a stock.
const readyMade = "corners"

// compare tries the options of the room file. Without any it tries a ready-made comparison, unless
// there is a stock from which stages are chosen.
func (p *Plan) compare(ctx context.Context, progress model.Progress) {
	options := p.Study.Project.Options
	if len(options) == 0 {
		if p.Placed.Stock != nil {
			p.miss(CompareOptions, NoOptions, nil)
			return
		}
		var err error
		if options, err = whatif.ReadyMade(readyMade, p.Placed); err != nil {
			p.miss(CompareOptions, Impossible, err)
			return
		}
		p.ReadyMade = readyMade
	}
	if options, p.Blocked = p.Placed.Allowed(options); len(options) == 0 {
		p.miss(CompareOptions, AllBlocked, nil)
		return
	}
	if ctx.Err() != nil {
		p.miss(CompareOptions, reason(ctx), nil)
		return
	}
	compared, err := study.Compare(ctx, p.Placed, options, progress)
	if err != nil {
		p.miss(CompareOptions, reason(ctx), err)
		return
	}
	p.Options = compared
}
