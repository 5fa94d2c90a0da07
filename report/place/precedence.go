package place

import (
	"fmt"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/report/card"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// precedenceText says why layout 1 comes first where another one has less spread; "" where none has, as printed.
func precedenceText(in *Report) string {
	all := in.Result.Candidates
	least := 0
	for i := range all {
		if all[i].Judgement.Spread() < all[least].Judgement.Spread() {
			least = i
		}
	}
	is, other := unit.Spread(all[0].Judgement.Spread()), unit.Spread(all[least].Judgement.Spread())
	why := reason(in, least)
	if is == other || why == "" {
		return ""
	}
	return fmt.Sprintf("%s has less spread (%s against %s), but %s.", text.Sentence(text.LayoutName(least+1)), other, is, why)
}

// reason says what decides for layout 1 against another; "" if nothing does.
func reason(in *Report, other int) string {
	p := in.Result.Precedence(0, other)
	spreads := fmt.Sprintf("%s against %s", unit.Spread(model.Level(p.First)), unit.Spread(model.Level(p.Other)))
	differences := fmt.Sprintf("%s against %s", unit.Difference(model.Level(p.First)), unit.Difference(model.Level(p.Other)))
	const tied = "the prediction cannot tell the two apart in score, and "
	switch p.Advantage {
	case optimize.MoreEven:
		return "it leaves more of the band uneven than now"
	case optimize.LowerScore:
		seats := ""
		if len(in.best().Seats) > 0 {
			seats = ", over all seats by weight"
		}
		return fmt.Sprintf("with marks slightly off and the listener leaning%s, layout 1 gives %s", seats, spreads)
	case optimize.BetterLuck:
		when := "with the worst plausible walls"
		if in.Stability != nil {
			when = "in nine of ten trials"
		}
		return tied + when + " layout 1 stays within " + spreads
	case optimize.WiderMarks:
		return fmt.Sprintf("%sthe marks of layout 1 may be off by %s against %s", tied, in.Style.Tape(p.First), in.Style.Tape(p.Other))
	case optimize.LessDeviation:
		return tied + "layout 1 has the smaller standard deviation, " + differences
	case optimize.BetterSeats:
		return tied + "layout 1 gives the other seats " + spreads
	case optimize.CloserPair:
		return tied + "left and right differ less in layout 1, by " + differences
	case optimize.LessMoving:
		return tied + "layout 1 takes less moving"
	}
	return ""
}

// cheaperText offers the first other layout that impairs nothing where layout 1 does; "" if there is none.
func cheaperText(in *Report) string {
	if i, words := cheaper(in); words != "" {
		return fmt.Sprintf("%s %s.", text.Sentence(text.LayoutName(i+1)), words)
	}
	return ""
}

// cheaperPlaces is cheaperText with the places of that layout, for where they are not listed.
func cheaperPlaces(in *Report) string {
	if i, words := cheaper(in); words != "" {
		return fmt.Sprintf("%s (%s) %s.", text.Sentence(text.LayoutName(i+1)), placesText(&in.Result.Candidates[i], in.Style), words)
	}
	return ""
}

// cheaper returns the number of that layout from 0, and what it costs and saves.
func cheaper(in *Report) (layout int, words string) {
	if in.Result.Now == nil {
		return 0, ""
	}
	now, first := in.now(), in.layout(0)
	for i := 1; i < len(in.Result.Candidates); i++ {
		other := in.layout(i)
		if words := card.Cheaper(&now, &first, &other); words != "" {
			return i, words
		}
	}
	return 0, ""
}
