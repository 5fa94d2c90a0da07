package card

import (
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Headline says in one sentence what becomes of a state: the gain, how sure it is, and what gets
// worse for it. What is the cause of the change, a subject with a singular verb: "moving the
// speakers". A figure that changes by less than can be told or heard is not called a gain.
func Headline(what string, before, after *State) string {
	c := after.Card.Compare(&before.Card)
	spread := fmt.Sprintf("from %s to %s", unit.DecibelsOnly(before.Card.Spread), unit.Spread(after.Card.Spread))
	worse := Worse(before, after)
	var words string
	switch c[response.SpreadFigure].Mark {
	case response.Better:
		verb := "narrows the extremes"
		if c.MoreEven() {
			verb = "evens out the bass"
		}
		if before.Card.Spread-after.Card.Spread < text.Noticeable {
			verb += " slightly,"
		}
		words = fmt.Sprintf("%s %s %s%s", text.Sentence(what), verb, spread, confidence(before, after))
		if all := overSeats(before, after); all != "" {
			main := text.Printable(before.Seats[0].Name)
			words = fmt.Sprintf("%s %s %s at the %s (all seats by weight: %s)%s", text.Sentence(what), verb, spread, main, all, confidence(before, after))
			if score.OverSeats(before.criteria(), after.criteria()) == response.Worse {
				words = fmt.Sprintf("%s helps only at the %s, %s; the seats together get worse, by weight %s", text.Sentence(what), main, spread, all)
			}
		}
	case response.Worse:
		words = fmt.Sprintf("%s makes the bass less even, %s%s", text.Sentence(what), spread, but(Better(before, after)))
		worse = worse[1:] // the spread is said
	default:
		better := Better(before, after)
		if len(better) == 0 && len(worse) == 0 {
			return fmt.Sprintf("%s makes no difference that can be told or heard: the spread is %s now and %s after.",
				text.Sentence(what), unit.Spread(before.Card.Spread), unit.Spread(after.Card.Spread))
		}
		words = fmt.Sprintf("%s leaves the spread about the same (%s, %s now)%s", text.Sentence(what),
			unit.Spread(after.Card.Spread), unit.Spread(before.Card.Spread), but(better))
	}
	return words + price(worse) + "."
}

// Price is what gets worse between two states, to end a sentence about a gain: "; but the deepest
// dip is 1.0 dB deeper". It is empty if nothing does.
func Price(before, after *State) string { return price(Worse(before, after)) }

func price(worse []string) string {
	if len(worse) == 0 {
		return ""
	}
	return "; but " + text.And(worse)
}

// but joins what is better to a sentence about a spread that is not.
func but(better []string) string {
	if len(better) == 0 {
		return ""
	}
	return "; " + text.And(better[:min(2, len(better))])
}

// confidence says in how many plausible rooms the gain holds.
func confidence(before, after *State) string {
	if after.Trials == 0 {
		return confidenceOfWalls(before, after)
	}
	return fmt.Sprintf(", better in %d of %d simulated variations of the room", after.Better, after.Trials)
}

// confidenceOfWalls says that a spread that is better shrinks with hard and with soft walls too, as
// [response.NewResolution] demands; "" where the walls are known.
func confidenceOfWalls(before, after *State) string {
	if b, a := before.Card.Ends, after.Card.Ends; len(b) != 3 || len(a) != 3 || b[1] == b[2] {
		return ""
	}
	return ", whatever the walls"
}

// Worthwhile reports whether a state is worth changing to, see [score.Worthwhile].
func Worthwhile(before, after *State) bool {
	return score.Worthwhile(before.criteria(), after.criteria())
}

// Better and Worse list what gets better and what gets worse by as much as can be told and heard,
// a clause each, the spread first: "the deepest dip is 3.1 dB shallower".
func Better(before, after *State) []string { return clauses(before, after, response.Better) }

// Worse is described with [Better].
func Worse(before, after *State) []string { return clauses(before, after, response.Worse) }

func clauses(before, after *State, mark response.Mark) []string {
	return marked(before, after, mark,
		func(f response.Figure) string { return clause(f, before.Card.Card, after.Card.Card) },
		func(i int) string { return seatClause(&before.Seats[i], &after.Seats[i]) })
}

// marked lists what is written of each figure with a mark, then of each other seat whose spread has it.
func marked(before, after *State, mark response.Mark, figure func(response.Figure) string, seat func(i int) string) []string {
	var list []string
	for f, c := range after.Card.Compare(&before.Card) {
		if c.Known && c.Mark == mark {
			list = append(list, figure(response.Figure(f)))
		}
	}
	for i := range min(len(before.Seats), len(after.Seats)) {
		if i > 0 && score.SeatMark(before.criteria(), after.criteria(), i) == mark {
			list = append(list, seat(i))
		}
	}
	return list
}

// Cheaper offers a state that impairs nothing, see [score.Relieves], instead of one that makes something worse, as
// the predicate of a sentence: what it costs in spread, what it leaves no worse, and what gets worse all the same. It
// is "" if the second does impair something, or makes as many figures worse.
func Cheaper(before, after, instead *State) string {
	name := func(f response.Figure) string { return nouns[f] }
	seat := func(i int) string { return "the spread at " + text.Printable(before.Seats[i].Name) }
	costs, left := marked(before, after, response.Worse, name, seat), marked(before, instead, response.Worse, name, seat)
	if len(left) >= len(costs) || !score.Relieves(before.criteria(), after.criteria(), instead.criteria()) {
		return ""
	}
	saved := slices.DeleteFunc(costs, func(name string) bool { return slices.Contains(left, name) })
	return fmt.Sprintf("costs less elsewhere: %s instead of %s, with %s no worse than now%s",
		unit.Spread(instead.Card.Spread), unit.Spread(after.Card.Spread), text.And(saved), Price(before, instead))
}

// nouns name the figures of a card within a sentence.
var nouns = map[response.Figure]string{
	response.SpreadFigure:    "the spread",
	response.DeviationFigure: "the standard deviation",
	response.WithinFigure:    "the share within ±6 dB",
	response.DipFigure:       "the deepest dip",
	response.LowOctaveFigure: "the lowest octave",
	response.WorstFallFigure: "the slowest decay",
	response.MeanFallFigure:  "the mean decay",
}

// seatClause says how the spread at another seat changes.
func seatClause(before, after *score.SeatFigures) string {
	verb, by := "grows", after.Spread-before.Spread
	if by < 0 {
		verb, by = "shrinks", -by
	}
	return fmt.Sprintf("the spread at %s %s by %s", text.Printable(after.Name), verb, unit.Difference(by))
}

// clause says how one figure changes.
func clause(f response.Figure, before, after response.Card) string {
	was, _ := before.Value(f)
	is, _ := after.Value(f)
	pick := func(less, more string) string {
		if is < was {
			return less
		}
		return more
	}
	by := unit.Difference(model.Level(max(is-was, was-is)))
	switch f {
	case response.SpreadFigure:
		return "the spread " + pick("shrinks", "grows") + " by " + by
	case response.DeviationFigure:
		return "the standard deviation " + pick("falls", "rises") + " by " + by
	case response.WithinFigure:
		return fmt.Sprintf("%s of the band is within ±6 dB instead of %s", unit.Percent(is), unit.Percent(was))
	case response.DipFigure:
		return "the deepest dip is " + by + pick(" deeper", " shallower")
	case response.LowOctaveFigure:
		return "the lowest octave is " + by + pick(" quieter", " louder")
	case response.WorstFallFigure:
		return fmt.Sprintf("the slowest 20 dB decay takes %s instead of %s", slowest(after.Fall, " at "), slowest(before.Fall, " at "))
	case response.MeanFallFigure:
		return fmt.Sprintf("the mean 20 dB decay takes %s instead of %s", Milliseconds(is), Milliseconds(was))
	}
	panic(fmt.Sprintf("card: a figure without a clause: %d", int(f)))
}
