package costmodel

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// quenchCase is hot stamping with its temperatures in a unit each.
func quenchCase(start, startUnit, capacityUnit string) csvCase {
	c := formerColumns()
	c["Operations"] = fmt.Sprintf("Part,Operation,Process,Machine,Set-up time [min],Batch size,start_temperature [%s],"+
		"heat_capacity [%s],contact_coefficient [W/(m2 K)]\n"+
		"P,10,hot stamping,M,1,10,%s,0.72,2000\n", startUnit, capacityUnit, start)
	c["Scenarios"] = "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n"
	c["Parts"] = "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nP,sheet,M,1.5,500,100\n"
	return c
}

// TestTemperaturesOfProcesses: a level of temperature may be given in degC or degF and never in K, which is for differences; heat
// capacities are by K. The quench time by hand: 1.5 x 0.72 kJ/(kg K) x 7,850 kg/m3 x 1.5 mm / (2 x 2,000 W/(m2 K)) x ln(660/90).
func TestTemperaturesOfProcesses(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	byHand := 1.5 * 720 * 7850 * 0.0015 / 4000 * math.Log(660./90)
	for _, c := range [][2]string{{"750", "degC"}, {"1382", "degF"}} {
		m := New(quenchCase(c[0], c[1], "kJ/(kg K)").read(t), lib)
		p, ds := m.Compile(m.Scenarios[0], CompileOptions{})
		if p == nil {
			t.Fatal(m.Diagnostics, ds)
		}
		if got, ok := p.Detail(1000).Entries("operation")[0].Value("quench_time"); !ok || math.Abs(got-byHand) > 1e-9 {
			t.Errorf("%s %s: the quench takes %v s, by hand %v", c[0], c[1], got, byHand)
		}
	}
	for _, c := range []struct{ value, unit, capacity, say string }{
		{"1023", "K", "kJ/(kg K)", "K is for differences of temperatures"},
		{"750", "1", "kJ/(kg K)", "start_temperature"},
		{"750", "degC", "kJ/kg", "heat_capacity"},
	} {
		m := New(quenchCase(c.value, c.unit, c.capacity).read(t), lib)
		if said := fmt.Sprint(m.Diagnostics); !strings.Contains(said, c.say) {
			t.Errorf("%s %s, %s is not refused: %s", c.value, c.unit, c.capacity, said)
		}
	}
}

// TestNoTemperatureIsPlain: what is called a temperature is a level, what is called a rise of it a difference, and a coefficient or
// capacity of heat is by K.
func TestNoTemperatureIsPlain(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, p := range lib.Processes {
		for _, it := range p.Items {
			want := ""
			switch {
			case strings.HasSuffix(it.Name, "_temperature"):
				want = "degC"
			case strings.HasPrefix(it.Name, "temperature_"):
				want = "K"
			case strings.HasSuffix(it.Name, "heat_capacity"):
				want = "J/(kg*K)"
			case it.Name == "contact_coefficient", it.Name == "film_coefficient":
				want = "W/(m2*K)"
			default:
				continue
			}
			found++
			if it.Unit != want {
				t.Errorf("%s: %s is in %s, not in %s", p.Name, it.Name, it.Unit, want)
			}
		}
	}
	if found < 8 {
		t.Errorf("only %d temperatures, capacities and coefficients", found)
	}
}
