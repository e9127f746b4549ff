package derive

import (
	"fmt"
	"strconv"
	"strings"

	"ownerguide/spec/quantity"
)

// none stands for "there is no such figure" in the published checks.
const none = "none"

// or returns a number as text, or none.
func or(x float64, ok bool) (string, error) {
	if !ok {
		return none, nil
	}
	return strconv.FormatFloat(x, 'g', -1, 64), nil
}

// handWorked is the unit of the load band worked by hand, its deck longer than
// the band.
var handWorked = statics{empty: 5980, tongue: 890, tongueLeast: 890, center: 222, shareLow: 0.10, shareHigh: 0.15, vertical: 2500, axles: 14000, front: 60, rear: 300}

// bandEnd returns one end of the hand-worked unit's band, in inches behind the
// coupler.
func bandEnd(x []float64, end int) float64 {
	front, rear, _ := handWorked.band(x[0])
	return [2]float64{front, rear}[end]
}

func lampCount(in []string) (string, error) {
	x, err := numbers(in[:2])
	if err != nil {
		return "", err
	}
	for _, l := range requiredLamps(quantity.Inches(x[0]), quantity.Inches(x[1])) {
		if l.duty == in[2] {
			return strconv.Itoa(l.count), nil
		}
	}
	return "0", nil
}

func lampColors(in []string) (string, error) {
	for _, l := range requiredLamps(102, 400) {
		if l.duty == in[0] {
			return strings.Join(l.colors, " "), nil
		}
	}
	return none, nil
}

// wllOf reads grade and size of a chain.
func wllOf(in []string) (grade int, wll quantity.Mass, ok bool, err error) {
	grade, err = strconv.Atoi(in[0])
	wll, ok = chainLimit(grade, in[1])
	return grade, wll, ok, err
}

func init() {
	index := func(symbol string) func([]string) (string, error) {
		return func(in []string) (string, error) {
			n, err := strconv.Atoi(in[0])
			if err != nil {
				return "", err
			}
			kg, ok := loadIndex(n)
			if symbol == "lb" {
				kg /= 0.45359237
			}
			return or(kg, ok)
		}
	}
	kinds["tire.load_index"] = index("kg")
	kinds["tire.load_index_lb"] = index("lb")
	kinds["tire.date_code"] = func(in []string) (string, error) {
		d, err := dateCode(in[0])
		if err != nil {
			return none, nil
		}
		return d.String(), nil
	}

	kinds["tire.diameter"] = func(in []string) (string, error) {
		s, ok := sizeOf(in[0])
		return or(s.diameter.Base(), ok)
	}
	kinds["tire.pressed"] = numeric(4, func(x []float64) float64 {
		return pressedShare(quantity.Mass(x[0]), quantity.Pressure(x[1]), quantity.Length(x[2]), quantity.Length(x[3])).Base()
	})
	kinds["spare.diameter_off"] = numeric(2, func(x []float64) float64 { return diameterOff(quantity.Length(x[0]), quantity.Length(x[1])).Base() })
	kinds["wheel.preload"] = numeric(2, func(x []float64) float64 {
		return preloadTorque(quantity.Length(x[0]), quantity.Length(1/x[1])).Base()
	})

	kinds["wheel.star_order"] = func(in []string) (string, error) {
		n, err := strconv.Atoi(in[0])
		return strings.Trim(strings.ReplaceAll(fmt.Sprint(starOrder(n)), " ", "-"), "[]"), err
	}
	kinds["wheel.torque_published"] = func(in []string) (string, error) {
		x, err := strconv.ParseFloat(in[1], 64)
		if r, ok := studTorque(in[0], 0); ok && r.low.Base() <= x && x <= r.high.Base() {
			return "yes", err
		}
		return "no", err
	}

	kinds["chain.wll"] = func(in []string) (string, error) {
		_, wll, ok, err := wllOf(in)
		if err != nil {
			return "", err
		}
		return or(wll.Base(), ok)
	}
	kinds["chain.breaking"] = func(in []string) (string, error) {
		grade, wll, ok, err := wllOf(in)
		if err != nil {
			return "", err
		}
		return or(chainStrength(grade, wll).Base(), ok)
	}
	kinds["coupler.least_ball"] = numeric(1, func(x []float64) float64 { return leastBall(quantity.Pounds(x[0])).Base() })

	kinds["tiedown.by_length"] = func(in []string) (string, error) {
		x, err := numbers(in[:2])
		if err != nil {
			return "", err
		}
		return strconv.Itoa(tiedownsByLength(x[0], x[1], in[2] == "yes")), nil
	}
	kinds["tiedown.by_rule"] = func(in []string) (string, error) {
		x, err := numbers(in[1:])
		kind, known := map[string]carries{"general": general, "vehicles": vehicles, "machines": machines}[in[0]]
		if err != nil || !known {
			return "", fmt.Errorf("kind %q: %v", in[0], err)
		}
		return strconv.Itoa(tiedownsByRule(kind, x[0], x[1])), nil
	}
	kinds["tiedown.by_strength"] = numeric(2, func(x []float64) float64 { return float64(tiedownsByStrength(x[0], x[1])) })
	kinds["tiedown.heavy_each"] = numeric(0, func([]float64) float64 { return heavyEach })
	kinds["axles.uneven"] = numeric(2, func(x []float64) float64 { return unevenShare(quantity.Length(x[0]), quantity.Length(x[1])).Base() })
	kinds["axles.group_most"] = numeric(2, func(x []float64) float64 { return groupMost(int(x[0]), quantity.Inches(x[1])).Base() })
	kinds["kingpin.least"] = numeric(1, func(x []float64) float64 { return kingpinLimit(quantity.Inches(x[0])).Base() })
	kinds["ring.least"] = numeric(1, func(x []float64) float64 { return ringLimit(quantity.Inches(x[0])).Base() })
	kinds["hitch.bed_gap"] = constant("hitch.bed_gap")
	kinds["law.tracking"] = constant("law.tracking")
	kinds["tiedown.recheck_first"] = constant("tiedown.recheck_first")
	kinds["tiedown.recheck_every"] = constant("tiedown.recheck_every")
	kinds["tiedown.recheck_hours"] = numeric(0, func([]float64) float64 {
		q, _ := declarations["tiedown.recheck_time"].compute(&Eval{}).(quantity.Duration)
		return quantity.In(q, "h")
	})
	kinds["tiedown.strap"] = numeric(0, func([]float64) float64 { return strapLimit })

	kinds["weight.share"] = numeric(2, func(x []float64) float64 { return share(quantity.Percent(x[0]), quantity.Pounds(x[1])).Base() })
	kinds["weight.on_coupler"] = numeric(4, func(x []float64) float64 {
		return statics{tongue: x[0], tongueLeast: x[0], center: x[2]}.onCoupler(x[1], x[3])
	})
	kinds["weight.band_front"] = numeric(1, func(x []float64) float64 { return bandEnd(x, 0) })
	kinds["weight.band_rear"] = numeric(1, func(x []float64) float64 { return bandEnd(x, 1) })
	kinds["weight.at"] = numeric(3, func(x []float64) float64 {
		return loadAt(quantity.Pounds(x[0]), quantity.Length(x[1]), quantity.Length(x[2])).Base()
	})
	kinds["weight.jack"] = numeric(2, func(x []float64) float64 { return jackLift(int(x[0]), quantity.Pounds(x[1])).Base() })
	kinds["weight.ramp_angle"] = func(in []string) (string, error) {
		x, err := numbers(in)
		if err != nil {
			return "", err
		}
		a, ok := rampAngle(quantity.Inches(x[0]), quantity.Inches(x[1]))
		return or(a.Base(), ok)
	}

	kinds["lamps.required"] = lampCount
	kinds["lamps.colors"] = lampColors
	kinds["lamps.tape_side"] = numeric(1, func(x []float64) float64 { return tapeSide(quantity.Inches(x[0])).Base() })

	kinds["law.licence"] = func(in []string) (string, error) {
		x, err := numbers(in)
		if err != nil {
			return "", err
		}
		tow, ok := licenseLimit(quantity.Pounds(x[0]))
		return or(tow.Base(), ok)
	}
	kinds["law.carrier"] = numeric(1, func(x []float64) float64 { return carrierLimit(quantity.Pounds(x[0])).Base() })
	kinds["law.value"] = func(in []string) (string, error) {
		switch x := (&Eval{run: &run{}}).fixedValue(in[0]).(type) {
		case quantity.Quantity:
			return or(x.Base(), true)
		case int:
			return strconv.Itoa(x), nil
		}
		return none, nil
	}
	kinds["law.guard"] = func(in []string) (string, error) {
		return or(map[string]float64{"height": guardHeight, "forward": guardForward}[in[0]], true)
	}
}

// fixedValue works out a declared figure that reads nothing.
func (e *Eval) fixedValue(name string) any { return declarations[name].compute(e) }
