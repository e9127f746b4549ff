package derive

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

var (
	_ = ofPart(Decl{Name: "wheels.torque", Round: asStated, Formula: "final torque of this wheel's lug nuts, by its maker; never a default"},
		func(w *product.Wheel) source.Given[quantity.Torque] { return w.Torque })

	wheelStuds = ofPart(Decl{Name: "wheels.studs", Formula: "lug nuts of one wheel"}, func(w *product.Wheel) source.Given[int] { return w.Studs })
	_          = textOfPart(Decl{Name: "wheels.stud_size", Formula: "thread of the studs"}, func(w *product.Wheel) source.Given[string] { return w.StudSize })
	_          = textOfPart(Decl{Name: "wheels.material", Formula: "what the wheel is made of"}, func(w *product.Wheel) source.Given[string] { return w.Material })

	_ = ofPart(Decl{Name: "wheels.socket", Round: quantity.Rounding{Stated: true, Fraction: 16, Step: 0.01}, Formula: "width across the flats of the lug nuts"},
		func(w *product.Wheel) source.Given[quantity.Length] { return w.Socket })

	_ = declare(Decl{Name: "wheels.sequence", Formula: "star order of the lug nuts, numbered clockwise: opposite ones follow each other where their number is even, else the step is half the circle rounded down",
		Source: Source{Memory, "trade tables of tightening orders; they differ slightly and do the same"}},
		func(e *Eval) Text {
			n := Get(e, wheelStuds)
			if n < 4 || n > 10 {
				e.Absent("no star order is known for %d studs", n)
			}
			var order []string
			for _, stud := range starOrder(n) {
				order = append(order, strconv.Itoa(stud))
			}
			return Text(strings.Join(order, "-"))
		})

	recheck1 = declareRecheck(1, 10)
	recheck2 = declareRecheck(2, 25)
	recheck3 = declareRecheck(3, 50)

	_ = declare(Decl{Name: "wheels.recheck_overdue", When: when("carrier-miles"), Aside: true, Round: statedMost,
		Formula: "the last of wheels.recheck that use.driven_already has reached", Source: arithmetic},
		func(e *Eval) (last quantity.Distance) {
			driven := Get(e, drivenAlready)
			for _, k := range []Key[quantity.Distance]{recheck1, recheck2, recheck3} {
				if after := Get(e, k); after <= driven {
					last = after
				}
			}
			if last == 0 {
				e.Absent("no check of the lug nuts is due when it is handed over")
			}
			return last
		})

	rimAxleCapacity = declare(Decl{Name: "wheels.capacity.axle", Round: wholeDown, Engineer: true, Formula: "load rating of one wheel times tires.per_axle", Source: arithmetic},
		func(e *Eval) quantity.Mass {
			return Read(e, fitted[product.Wheel](e).Load) * quantity.Mass(Get(e, tiresPerAxle))
		})
)

func init() {
	family(Decl{Name: "wheels.stage", Round: asStated, Formula: "torque of each round of tightening, the last one wheels.torque", Source: fromPart},
		func(e *Eval) (out []*Value) {
			for i, s := range fitted[product.Wheel](e).Stages {
				out = append(out, readMember(e, strconv.Itoa(i+1), s))
			}
			return out
		})
}

func declareRecheck(n int, after quantity.Distance) Key[quantity.Distance] {
	return declare(Decl{Name: "wheels.recheck." + strconv.Itoa(n), Round: statedMost,
		Formula: "distance after the first use and after every wheel removal at which the lug nuts are checked",
		Source:  Source{Practice, "10, 25 and 50 miles"}},
		func(*Eval) quantity.Distance { return after })
}

// starOrder returns the order in which the n studs of a wheel, numbered clockwise from 1, are
// tightened: every stud once, and for 5 and more none after its neighbor. An even circle
// takes each stud with the one opposite, in the star order of half the circle; an odd one
// steps by half the circle.
// Source: trade tables for 4, 5, 6, 8 and 10 studs, from memory.
func starOrder(n int) []int {
	if n < 3 {
		return []int{1, 2}[:max(n, 0)]
	}
	order := make([]int, 0, n)
	if n%2 == 0 {
		for _, stud := range starOrder(n / 2) {
			order = append(order, stud, stud+n/2)
		}
		return order
	}
	for i := range n {
		order = append(order, i*((n-1)/2)%n+1)
	}
	return order
}

// torqueRange is a range of torques in use for a stud, in lb-ft.
type torqueRange struct{ low, high quantity.Torque }

// torqueRanges are the ranges of torques in use, with gaps between them. The torques of
// 5/8-18 differ more than two-fold with nut and wheel, which is why a wheel's torque is never
// inferred from its stud. Those of 1/2-20 depend on the rim: the lower range is for rims
// below 14 in. Common practice, no source.
var torqueRanges = map[string][]torqueRange{
	"1/2-20":  {{50, 75}, {90, 120}},
	"9/16-18": {{90, 140}},
	"5/8-18":  {{140, 160}, {190, 210}, {275, 325}},
}

// largeRim is the least rim whose 1/2-20 nuts take the higher torques.
const largeRim = quantity.Length(14)

// Threads are given by diameter and threads per inch, such as 1/2-20, or metric, such as M14x1.5.
var (
	inchThread   = source.Pattern(`^(\d+)/(\d+)\s*-\s*(\d{1,2})$`)
	metricThread = source.Pattern(`^[Mm](\d{1,2})\s*[xX×*]\s*(\d(?:\.\d+)?)$`)
)

// Torques in use range from half to twice the torque that stresses a stud of medium carbon steel to
// three quarters of its proof stress.
const (
	proofStress = 85000 // psi, SAE J429 grade 5, from memory
	preloadPart = 0.75
	nutFactor   = 0.2 // dry and clean, handbooks
	torqueLeast = 0.5
	torqueMost  = 2
)

// preloadTorque returns the torque that tightens a stud of a diameter and pitch to its preload.
// Source: T = K d F of handbooks; stress area 0.7854 (d − 0.9743 p)², ASME B1.1.
func preloadTorque(d, pitch quantity.Length) quantity.Torque {
	thin := float64(d) - 0.9743*float64(pitch)
	return quantity.Torque(nutFactor * float64(d) * preloadPart * proofStress * math.Pi / 4 * thin * thin / 12)
}

// studTorque returns the range of torques in use for a stud such as 1/2-20 or M14x1.5 on a rim
// diameter, 0 if not known, from a table or calculated; ok is false for anything that is not a
// thread. The range may contain gaps of [torqueRanges].
func studTorque(stud string, rim quantity.Length) (r torqueRange, ok bool) {
	stud = strings.TrimSpace(stud)
	if all := torqueRanges[stud]; all != nil {
		switch {
		case stud != "1/2-20" || rim == 0:
			return torqueRange{all[0].low, all[len(all)-1].high}, true
		case rim < largeRim:
			return all[0], true
		}
		return all[1], true
	}
	d, pitch, ok := threadOf(stud)
	if !ok {
		return torqueRange{}, false
	}
	about := preloadTorque(d, pitch)
	return torqueRange{torqueLeast * about, torqueMost * about}, true
}

// threadOf returns diameter and pitch of a thread; ok is false for anything that is not one of a stud.
func threadOf(stud string) (d, pitch quantity.Length, ok bool) {
	number := func(text string) quantity.Length {
		x, _ := strconv.ParseFloat(text, 64) // the pattern allows only digits
		return quantity.Length(x)
	}
	if m := inchThread().FindStringSubmatch(stud); m != nil {
		d, pitch = number(m[1])/number(m[2]), 1/number(m[3])
	} else if m := metricThread().FindStringSubmatch(stud); m != nil {
		d, pitch = number(m[1])/25.4, number(m[2])/25.4
	}
	return d, pitch, d > 0.25 && d < 1.2 && pitch < d/2
}

// Nuts are this many times as wide across flats as their thread. Common practice, no source.
const socketLeast, socketMost = 1.3, 1.8

var _ = limit(Limit{ID: "socket-size",
	Protects: "a socket that does not fit leaves the owner at the roadside, or rounds the nuts",
	Check: func(e *Eval) {
		w := fitted[product.Wheel](e)
		d, _, ok := threadOf(Read(e, w.StudSize))
		if !ok || !w.Socket.Set {
			return
		}
		for _, b := range []struct {
			order Order
			share quantity.Length
			says  string
		}{{AtLeast, socketLeast, "at least"}, {AtMost, socketMost, "at most"}} {
			e.require(entry(e, w.Socket), b.order, e.calculated(b.says+" across the flats of a nut", b.share*d, quantity.Rounding{}, entry(e, w.StudSize)), "the socket is %s; for nuts on these studs it is "+b.says+" %s")
		}
	}})

var (
	_ = limit(Limit{ID: "torque-range", MaxReserve: 3,
		Protects: "lug nuts too loose let the wheel go; too tight they break the studs",
		Check: func(e *Eval) {
			w := fitted[product.Wheel](e)
			var rim quantity.Length
			if w.Rim.Set {
				rim = Read(e, w.Rim)
			}
			r, ok := studTorque(Read(e, w.StudSize), rim)
			if !ok {
				e.report(wrong(e, w.StudSize, "%q is no thread; expected such as 1/2-20 or M14x1.5", w.StudSize.Value))
				return
			}
			torque, published := entry(e, w.Torque), Source{Practice, "in use for the stud"}
			if e.compare(torque, AtLeast, e.fromRule(published, r.low, asStated)) && e.compare(torque, AtMost, e.fromRule(published, r.high, asStated)) {
				return
			}
			f := wrong(e, w.Torque, "the lug nut torque is %s; figures in use for a %s stud run from %.0f to %.0f lb-ft",
				w.Torque.Text, w.StudSize.Value, r.low.Base(), r.high.Base())
			e.report(f.WithRelated(w.StudSize.At, "the stud stands here"))
		}})

	_ = limit(Limit{ID: "torque-between", Severity: source.Warning, NoMargin: true,
		Protects: "a torque in newton meters written as pound-feet lies between those in use, and the nuts are a third too loose or too tight",
		Check: func(e *Eval) {
			w := fitted[product.Wheel](e)
			all := torqueRanges[strings.TrimSpace(Read(e, w.StudSize))]
			for i := 1; i < len(all); i++ {
				if t := Read(e, w.Torque); t > all[i-1].high && t < all[i].low {
					e.report(wrong(e, w.Torque, "the lug nut torque is %s; for a %s stud none in use lies between %.0f and %.0f lb-ft", w.Torque.Text, w.StudSize.Value, all[i-1].high.Base(), all[i].low.Base()).
						WithHint("look whether the paper of the wheel's maker gives it in lb-ft or in N·m"))
				}
			}
		}})

	_ = limit(Limit{ID: "torque-stages", MaxReserve: 8,
		Protects: "a wheel pulled tight on one side first sits askew and works loose",
		Check: func(e *Eval) {
			// That they rise to the final torque is checked by the reader of the line.
			w := fitted[product.Wheel](e)
			if torque := Read(e, w.Torque); len(w.Stages) < 2 {
				e.report(wrong(e, w.Torque, "the wheel has %d torque stages; expected at least two, the last one the final torque of %s",
					len(w.Stages), e.text(torque, asStated)))
				return
			}
			e.require(entry(e, w.Stages[0]), AtMost, e.calculated("half of the final torque, common practice", w.Torque.Value/2, asStated, entry(e, w.Torque)),
				"the first torque stage is %s; before every nut is snug it is at most %s")
		}})

	_ = limit(Limit{ID: "wheel-studs", NoMargin: true,
		Protects: "a wheel with other studs than the hub does not fit, or seems to",
		Check: func(e *Eval) {
			w := fitted[product.Wheel](e)
			for i := range axleCount(e) {
				a := axle(e, i)
				if Read(e, w.Studs) == Read(e, a.Studs) && Read(e, w.StudSize) == Read(e, a.StudSize) {
					continue
				}
				f := wrong(e, w.Studs, "the wheel is for %d studs %s; axle %d has %d studs %s", w.Studs.Value, w.StudSize.Value, i+1, a.Studs.Value, a.StudSize.Value)
				e.report(f.WithRelated(a.Studs.At, "the axle's studs stand here"))
			}
		}})

	_ = limit(Limit{ID: "rating-rim-load",
		Protects: "a wheel loaded above its rating cracks round the center",
		Check: func(e *Eval) {
			for i := range axleCount(e) {
				e.require(of(e, rimAxleCapacity), AtLeast, of(e, gawr[i]),
					fmt.Sprintf("the wheels of axle %d carry %%s; its gawr is %%s", i+1))
			}
		}})

	_ = limit(Limit{ID: "rating-rim-pressure",
		Protects: "a rim inflated above its rating can burst in the face of whoever fills the tire",
		Check: func(e *Eval) {
			w := fitted[product.Wheel](e)
			e.require(entry(e, w.MaxCold), AtLeast, of(e, coldPressure), "the wheel is rated for %s; the tire is filled to %s")
		}})
)
