package roomfile

import (
	"math"
	"strconv"
	"strings"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// calibrated is what evenbass calibrate learned of the room. The walls' figures go to the surfaces.
func calibrated(f *form, p *model.Project) {
	const key = "calibrated"
	r := &p.Room
	if !f.has(key, r.Calibration != nil) {
		return
	}
	if f.reading() {
		r.Calibration = &model.Calibration{}
	}
	c := r.Calibration
	f.section(key, func(g *form) {
		words(g, "from", &c.From, nameValue)
		preset(g, "seats", &c.Seats, seatCount)
		preset(g, "before", &c.Before, levelValue)
		preset(g, "after", &c.After, levelValue)
		for i, name := range []string{"length", "width", "height"} {
			must(g, name, "-1.2 cm ± 0.8 cm", &c.Size[i], fittedCodec(lengthValue))
		}
		g.section("walls", func(h *form) {
			for _, face := range model.Faces {
				if s := &r.Walls[face]; h.has(face.String(), s.Fit.Set()) {
					h.section(face.String(), func(w *form) { wallFit(w, s) })
				}
			}
		})
		correlation(g, c)
	})
}

// wallFit is how a wall absorbs against its construction, which is named so that a wall that was
// changed later is noticed.
func wallFit(f *form, s *model.Surface) {
	of := s.Material()
	must(f, "of", of, &of, codec[string]{func(text string) (string, error) {
		if text != s.Material() {
			return "", &quantity.Mistake{What: model.Sprintf("this was fitted to %q, and the wall is %q now", text, s.Material()), Right: "run evenbass calibrate again, or remove the calibrated block"}
		}
		return text, nil
	}, nameValue.format})
	must(f, "shift", "0.4 ± 0.2", &s.Fit.Shift, fittedCodec(weightValue))
	must(f, "slope", "-0.1 ± 0.3", &s.Fit.Slope, fittedCodec(weightValue))
	if f.has("curve", s.Fit.Curve.Deviation > 0) {
		must(f, "curve", "0.05 ± 0.2", &s.Fit.Curve, fittedCodec(weightValue))
	}
}

// fittedCodec is the codec of a value with its standard deviation.
func fittedCodec(one codec[float64]) codec[model.Fitted] {
	return codec[model.Fitted]{
		func(text string) (v model.Fitted, err error) {
			value, deviation, two := strings.Cut(text, "±")
			if !two {
				return v, &quantity.Mistake{What: model.Sprintf("%q has no ± with what it may be off by", text), Right: "write it as evenbass calibrate does, such as " + one.format(0.4) + " ± " + one.format(0.2)}
			}
			if v.Value, err = one.parse(strings.TrimSpace(value)); err != nil {
				return v, err
			}
			if v.Deviation, err = one.parse(strings.TrimSpace(deviation)); err != nil {
				return v, err
			}
			if !(v.Deviation > 0) {
				return v, &quantity.Mistake{What: model.Sprintf("%q says that nothing is uncertain", text), Right: "write a deviation above zero"}
			}
			return v, nil
		},
		func(v model.Fitted) string { return one.format(v.Value) + " ± " + one.format(v.Deviation) },
	}
}

// seatCount is the codec of a number of seats.
var seatCount = codec[int]{
	func(text string) (int, error) {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > maxItems {
			return 0, &quantity.Mistake{What: model.Sprintf("%q is not a number from 1 to %d", text, maxItems)}
		}
		return n, nil
	},
	strconv.Itoa,
}

// levelValue is the codec of a level in dB.
var levelValue = codec[model.Level]{
	func(text string) (model.Level, error) {
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "dB")), 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || !strings.HasSuffix(text, "dB") {
			return 0, &quantity.Mistake{What: model.Sprintf("%q is not a level", text), Right: "write it as 1.5 dB"}
		}
		return model.Level(v), nil
	},
	func(l model.Level) string { return quantity.Decimal(float64(l)) + " dB" },
}

// correlation is a triangle of figures, row by row, each row as one text.
func correlation(f *form, c *model.Calibration) {
	var rows [][]float64
	for i := 0; !f.reading() && len(c.Correlation) >= i*(i+1)/2+i+1; i++ {
		rows = append(rows, c.Correlation[i*(i+1)/2:i*(i+1)/2+i+1])
	}
	if f.has("correlation", len(rows) > 0) {
		words(f, "correlation", &rows, rowValue)
	}
	for i, row := range rows {
		if !f.reading() {
			break
		}
		if len(row) != i+1 {
			f.in.add(f.node.at, f.at("correlation"), quantity.Mistake{What: model.Sprintf("row %d has %d figures", i+1, len(row)), Right: model.Sprintf("it needs %d", i+1)})
			return
		}
		c.Correlation = append(c.Correlation, row...)
	}
}

// rowValue is the codec of a row of figures.
var rowValue = codec[[]float64]{
	func(text string) (row []float64, err error) {
		for word := range strings.FieldsSeq(text) {
			v, err := weightValue.parse(word)
			if err != nil {
				return nil, err
			}
			row = append(row, v)
		}
		return row, nil
	},
	func(row []float64) string {
		var list []string
		for _, v := range row {
			list = append(list, quantity.Decimal(v))
		}
		return strings.Join(list, " ")
	},
}
