package derive

import "testing"

// Worked by hand in metric units, which the line does not use: the floor of the sheet
// is 4.8768 m long and 1.8288 m wide, 8.9187 m² or 96 ft² (13,824 in²); between walls 66 in apart it
// is 8.1755 m² or 88 ft² (12,672 in²). 4,200 in² are 2.7097 m², 30.4 % and 33.1 % of these.
func TestStockFloor(t *testing.T) {
	for _, c := range []struct {
		line slip
		name string
		want float64
	}{
		{slip{}, "stock.floor_area", 13824},
		{slip{}, "stock.open_share", 30.38},
		{slip{"components/stock.yaml", "inside_width: 72 in", "inside_width: 66 in"}, "stock.floor_area", 12672},
		{slip{"components/stock.yaml", "inside_width: 72 in", "inside_width: 66 in"}, "stock.open_share", 33.14},
	} {
		vs, _ := slippedValues(t, "0201", slip{}, c.line)
		if got := exact(t, vs, c.name); got < c.want*0.9995 || got > c.want*1.0005 {
			t.Errorf("%s is %.2f, expected %.2f", c.name, got, c.want)
		}
	}
}
