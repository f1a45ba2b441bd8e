package costmodel

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/units"
)

// askedGroup is quantities of a scope that Go asks the library for by name, with what Go relies on: their unit, which stands in
// headings of sheets as words, or of a choice the options that Go knows, with | between them.
type askedGroup struct {
	scope, unit, names string
	within             string // "form": some forms of part have it; empty: all rows of the scope have it
}

// askedQuantities is the one list of the names that Go takes from the library: for results, sheets, studies and the structure.
// LoadLibrary looks each up, so that a quantity renamed or deleted under templates/ is an error at start and never an empty
// cell or a zero; a test holds the list against every name in the source. A word that Go says of one scope stands here for
// each scope that has it, since a name alone does not tell the scope. The elements come in askedFor.
var askedQuantities = []askedGroup{
	{"case", "%/yr", "interest_rate", ""},
	{"case", "currency", "duty freight material_handling packaging", ""},
	{"case", "currency/kg", "allowable_cost_of_mass_saving", ""},
	{"case", "%", "profit_share sga_share", ""},
	{"case", "yr", "programme_life", ""},

	{"scenario", "1/yr", "annual_volume", ""},
	{"scenario", "currency", "piece_cost price setup_cost fixed_cost step_fixed_cost variable_cost profit_amount sga_amount " +
		"product_specific_equipment_investment tooling_investment", ""},
	{"scenario", "currency/yr", "annual_cost", ""},
	{"scenario", "kg", "gross_mass net_mass scrap_mass", ""},
	{"scenario", "m2", "floor_space product_specific_floor_space", ""},
	{"scenario", "1", "direct_workers joint_count operation_count part_count piece_count tool_count", ""},

	{"plant", "1", "shifts", ""},
	{"plant", "h", "paid_hours_per_shift shift_time", ""},
	{"plant", "1/yr", "working_days", ""},
	{"plant", "currency/h", "direct_labour_rate", ""},
	{"plant", "%", "fixed_overhead_share planned_capacity_utilisation", ""},
	{"plant", "%/yr", "interest_rate", ""},

	{"material", "currency/kg", "base_price price scrap_price", ""},
	{"material", "kg/yr", "annual_quantity", ""},
	{"material", "kg/m3", "density", ""},
	{"material", "GPa", "elastic_modulus", ""},
	{"material", "MPa", "minimum_yield_strength yield_strength minimum_tensile_strength tensile_strength", ""},

	{"machine", "shared|dedicated|pooled", "equipment_allocation", ""},
	{"machine", "1", "crew lines_filled product_specific_machines pool_crew_shifts pool_machines", ""},
	{"machine", "%", "capacity_utilisation", ""},
	{"machine", "min", "setup_time", ""},
	{"machine", "h/yr", "machine_hours_required", ""},
	{"machine", "m2", "footprint product_specific_floor_space", ""},
	{"machine", "currency", "price installed_price product_specific_investment", ""},
	{"machine", "currency/yr", "annual_capital annual_maintenance", ""},
	{"machine", "currency/h", "machine_hour_rate work_centre_hourly_rate rate_building rate_energy rate_equipment rate_labour " +
		"rate_maintenance rate_overhead", ""},

	{"part", "1/yr", "demand good_quantity input_quantity", ""},
	{"part", "kg", "blank_mass gross_mass net_mass net_mass_of_this_level", ""},
	{"part", "mm", "gauge", "form"},
	{"part", "1", "part_count piece_count", ""},
	{"part", "%", "material_utilisation", ""},
	{"part", "currency", "piece_cost_including_components piece_cost_of_this_level material_per_piece purchase_price target_cost target_gap", ""},
	{"part", "currency/kg", "cost_per_kilogram scrap_price", ""},
	{"part", "currency/yr", "annual_cost", ""},

	{"link", "1", "quantity", ""},
	{"link", "currency/yr", "child_cost", ""},

	{"joint", "1", "count", ""},
	{toolKindScope, "cycles", "tool_life", ""},

	{"operation", "shared|dedicated|pooled", "equipment_allocation", ""},
	{"operation", "1", "crew dedicated_machines direct_workers lines_needed machines_charged parallel_tool_sets pieces_per_cycle " +
		"joint_count operation_count refurbishments sets_for_life tool_count tool_sets", ""},
	{"operation", "cycles", "programme_cycles tool_life", ""},
	{"operation", "%", "reject_rate", ""},
	{"operation", "1/yr", "batches good_quantity", ""},
	{"operation", "s", "cycle_time", ""},
	{"operation", "min", "setup_time", ""},
	{"operation", "h/yr", "required_hours", ""},
	{"operation", "kW", "power", ""},
	{"operation", "m2", "footprint floor_space", ""},
	{"operation", "currency", "piece_cost tool_investment tool_price", ""},
	{"operation", "currency/yr", "annual_cost cost_on_machine crew_step_cost fixed_cost machine_step_cost setup_cost step_fixed_cost variable_cost", ""},
}

// setUps is what the ceil counts that ContinuousBatches leaves out; some quantity of a step counts it.
const setUps = "set-ups"

// pooledRule is the equipment allocation that decides which steps share the lines of a machine.
const pooledRule = "pooled"

// An askedName is one quantity of the list.
type askedName struct{ scope, name, unit, within string }

// askedFor lists the quantities that Go asks for, the elements among them.
func askedFor(elements []Element) []askedName {
	var out []askedName
	for _, g := range askedQuantities {
		for _, name := range strings.Fields(g.names) {
			out = append(out, askedName{g.scope, name, g.unit, g.within})
		}
	}
	for _, e := range elements {
		for _, scope := range []string{"operation", "part", "scenario"} {
			out = append(out, askedName{scope, e.Name, "currency/yr", ""})
		}
		out = append(out, askedName{"scenario", e.PieceName(), "currency", ""})
	}
	return out
}

// complete returns an error that names each quantity that Go asks for and that the library has not, or has otherwise.
func (lib *Library) complete() error {
	sys, err := units.NewSystem("EUR", nil) // any currency: the units of the library speak of "currency"
	if err != nil {
		return err
	}
	var faults []error
	for _, a := range askedFor(lib.Elements) {
		if err := lib.has(a, sys); err != nil {
			faults = append(faults, err)
		}
	}
	if _, err := newComparison(lib.Comparison, sys); err != nil {
		faults = append(faults, err)
	}
	if _, err := newScreening(lib.Screening, sys); err != nil {
		faults = append(faults, err)
	}
	if _, err := newBenchmarkEquations(lib.Benchmark, sys, "m2"); err != nil {
		faults = append(faults, err)
	}
	for _, f := range lib.aliasFaults(lib.aliasUses()) {
		faults = append(faults, fmt.Errorf("%s:%d: %s; %s", f.place.File, f.place.Row, f.what, f.help))
	}
	faults = append(faults, lib.sizeFaults()...)
	if err := lib.checkRules(sys); err != nil {
		faults = append(faults, err)
	}
	if lib.form(GivenMasses) == nil {
		faults = append(faults, fmt.Errorf("forms: no form %s, as which the forms of a workbook begin", GivenMasses))
	}
	if len(lib.Elements) == 0 {
		faults = append(faults, errors.New("equations: no file lists the elements of cost"))
	}
	counted := false
	for _, t := range lib.Scopes {
		for i := range t.Items {
			counted = counted || t.Scope == "operation" && t.Items[i].counts == setUps
		}
	}
	if !counted {
		faults = append(faults, fmt.Errorf("%s: no quantity of an operation counts %s, which the program leaves out of rounding where batches are continuous",
			lib.fileOf("operation"), setUps))
	}
	return errors.Join(faults...)
}

// has looks one quantity up among what all rows of its scope have, or what forms give.
func (lib *Library) has(a askedName, sys *units.System) error {
	list := lib.Scopes
	if a.within == "form" {
		list = append(slices.Clone(lib.Scopes), lib.Forms...)
	}
	for _, t := range list {
		for i := range t.Items {
			if t.Scope == a.scope && t.Items[i].Name == a.name {
				return t.Items[i].answers(a, sys)
			}
		}
	}
	return fmt.Errorf("%s: no quantity %s of the %s, which the program asks for by name; restore it or rename it in costmodel/asked.go and "+
		"where it is used", lib.fileOf(a.scope), a.name, a.scope)
}

// answers tells whether a quantity is what Go takes it for.
func (it *Item) answers(a askedName, sys *units.System) error {
	fault := func(is string) error {
		return fmt.Errorf("%s:%d: %s of a %s is %s, but the program takes it for [%s]", it.place.File, it.place.Row, a.name, a.scope, is, a.unit)
	}
	if strings.Contains(a.unit, "|") {
		for _, o := range strings.Split(a.unit, "|") {
			if !slices.Contains(it.Options, o) {
				return fault(fmt.Sprintf("one of %q", it.Options))
			}
		}
		return nil
	}
	if len(it.Options) > 0 || it.Unit == "flag" {
		return fault("a choice or a condition")
	}
	u, err := sys.Parse(it.Unit)
	if err != nil {
		return fmt.Errorf("%s:%d: %s: %w", it.place.File, it.place.Row, it.Name, err)
	}
	want, err := sys.Parse(a.unit)
	if err != nil {
		return err
	}
	if !u.Same(want) {
		return fault("[" + it.Unit + "]")
	}
	return nil
}

// fileOf is the file of a scope's equations.
func (lib *Library) fileOf(scope string) string {
	for _, t := range lib.Scopes {
		if t.Scope == scope {
			return t.File
		}
	}
	return "equations: scope " + scope
}

// MustQuantity returns the number of a quantity that Go names. A name that the scope has not is a fault of the program: what
// the library must have is settled when it is loaded.
func (sc *Scope) MustQuantity(name string) int32 {
	n, ok := sc.index[name]
	if !ok {
		panic(fmt.Sprintf("a %s has no quantity %s", sc.Name, name))
	}
	return n
}
