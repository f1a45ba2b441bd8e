package table

import (
	"slices"
	"strings"
)

// A Shape says how a sheet is laid out.
type Shape uint8

// The shapes of sheets.
const (
	RowsAre    Shape = iota // a row is a thing, columns are its quantities
	ColumnsAre              // a row is a quantity with its unit, columns are the things
	Listed                  // a row is one quantity of a thing with its unit, so that a thing has several
)

// A Layout describes an input sheet.
type Layout struct {
	Sheet    string
	Scope    string // of the things it lists; empty for sheets that list none
	Shape    Shape
	Key      []string // columns that name a row, in order
	Texts    []string // other columns that hold words
	Columns  []string // other columns, of a sheet that lists no things of the case
	Unread   bool     // known, and read by nothing yet
	Words    bool     // it is kept for papers, and no result rests on it
	Required bool
	About    string // what a row is
}

// Provenance are the columns that any table may have; they are carried to wherever a value is shown.
var Provenance = []string{"source", "date", "owner", "confidence", "note"}

// IsProvenance tells whether a column is one of those, by its name.
func IsProvenance(name string) bool { return slices.Contains(Provenance, name) }

// Layouts are the input sheets, in their order in the workbook.
var Layouts = []Layout{
	{Sheet: "Case", Scope: "case", Shape: ColumnsAre, Key: []string{"quantity"}, Texts: []string{"unit"}, Required: true, About: "a fact of the whole case"},
	{Sheet: "Plants", Scope: "plant", Shape: ColumnsAre, Key: []string{"quantity"}, Texts: []string{"unit"}, Required: true,
		About: "an assumption, one column a plant"},
	{Sheet: "Materials", Scope: "material", Key: []string{"material"}, Texts: []string{"name", "grade", "form", "price_date"}, About: "a grade"},
	{Sheet: "Machines", Scope: "machine", Key: []string{"machine"}, Texts: []string{"name", "group", "process_class", "plant", "sized_by", "size_series"},
		Required: true, About: "a machine or line"},
	{Sheet: "Parts", Scope: "part", Key: []string{"part"}, Texts: []string{"name", "alternative", "form", "material", "incoterm"}, Required: true,
		About: "a part or assembly"},
	{Sheet: "Bill of materials", Scope: "link", Key: []string{"parent", "child"}, Texts: []string{"joined_at_operation", "alternative"},
		About: "a child that joins a parent"},
	{Sheet: "Operations", Scope: "operation", Key: []string{"part", "operation"},
		Texts: []string{"name", "process", "machine", "plant", "alternative", "tool_kind"}, Required: true, About: "an operation of a part's route"},
	{Sheet: "Joints", Scope: "joint", Key: []string{"part", "operation", "kind"}, About: "joints of a kind that an operation makes"},
	{Sheet: "Tool relations", Scope: "tool kind", Shape: Listed, Key: []string{"tool_kind"},
		Columns: []string{"coefficient", "value", "unit", "state", "count"}, About: "a coefficient by which tools of a kind are priced"},
	{Sheet: "Past tools", Key: []string{"tool"}, Texts: []string{"tool_kind"}, About: "a tool that was bought, with its price"},
	{Sheet: "Machine relations", Shape: Listed, Key: []string{"machine"}, Columns: []string{"coefficient", "value", "unit", "state", "count"},
		About: "a coefficient of the price of machines that are sized by what their operations need"},
	{Sheet: "Past machines", Key: []string{"past_machine"}, Texts: []string{"machine"}, Columns: []string{"count"},
		About: "a machine that was bought, with its price"},
	{Sheet: "Scenarios", Scope: "scenario", Shape: ColumnsAre, Key: []string{"sheet", "row", "column"}, Required: true,
		About: "a setting, or a change of an input, one column a scenario"},
	{Sheet: "Volumes", Key: []string{"annual_volume"}, Texts: []string{"from", "to", "points"}, About: "an annual volume, or a range"},
	{Sheet: "Currencies", Key: []string{"code"}, Columns: []string{"rate"}, About: "a currency"},
	{Sheet: "Tables", Key: []string{"curve"}, Columns: []string{"x", "x_unit", "y", "y_unit"}, About: "a point of a curve"},
	{Sheet: "Price bands", Key: []string{"sheet", "row"}, Columns: []string{"sheet", "row", "from_quantity", "quantity_unit", "price", "price_unit"},
		About: "a price from an annual quantity on"},
	{Sheet: "Processes", Key: []string{"process", "quantity"}, Columns: []string{"unit", "formula_or_value", "formula", "value", "definition"},
		About: "an own definition"},
	{Sheet: "Targets", Key: []string{"quantity"}, Texts: []string{"part", "unit", "direction", "target"},
		About: "a requirement, and where it differs or was measured, one column a scenario"},
	{Sheet: "Trial values", Key: []string{"part", "grade"}, Texts: []string{"quantity", "unit", "direction"}, Columns: []string{"gauge", "target", "measured"},
		About: "what is asked of a part in a trial, or what was measured of it in a grade at a gauge"},
	{Sheet: "Benchmarks", Key: []string{"benchmark"}, Texts: []string{"part", "size_unit"}, Columns: []string{"mass", "size", "cost"},
		About: "a measured part or assembly of another maker, or the size of the own one"},
	{Sheet: "Uncertainty", Key: []string{"sheet", "row", "column"}, Texts: []string{"distribution"}, Columns: []string{"low", "likely", "high"},
		About: "an uncertain quantity"},
	{Sheet: "Studies", Key: []string{"study"}, Texts: []string{"scenario", "against", "input", "second_input", "part", "grades", "base_grade"},
		Columns: []string{"study", "scenario", "against", "input", "from", "to", "points", "second_input", "second_from", "second_to", "second_points",
			"annual_volume", "target", "mass_limit", "part", "grades", "gauges", "base_grade", "base_gauge"},
		About: "a study that a run makes a sheet of"},
	{Sheet: "Correlations", Unread: true, About: "a pair of uncertain quantities"},
	{Sheet: "Programme", Unread: true, About: "a year"},
	{Sheet: "Quotes", Shape: ColumnsAre, Key: []string{"quantity"}, Texts: []string{"unit"},
		About: "a quantity of a request and of what suppliers offered, one column each"},
	{Sheet: "Quote lines", Key: []string{"quote", "line"}, Texts: []string{"element", "part", "operation", "text", "material", "unit", "on", "directed"},
		Columns: []string{"amount", "quantity", "rate", "time", "pieces_per_cycle", "crew", "labour_rate", "machine_rate", "output_per_hour", "batch",
			"reject", "surcharge", "life",
			"agreed"}, About: "a line of a supplier's breakdown"},
	{Sheet: "Price months", Key: []string{"material", "month"}, Columns: []string{"material", "month", "base_price", "scrap_price"},
		About: "list prices of a grade in a month"},
	{Sheet: "Freight lanes", Key: []string{"from", "delivery_term"}, Columns: []string{"from", "delivery_term", "freight", "duty", "transit_days", "truck"},
		About: "what the way from a place costs"},
	{Sheet: "Quote rules", Key: []string{"rule"}, Columns: []string{"rule", "low", "high", "use"}, About: "another bound of a rule for quotes"},
	{Sheet: "Negotiation record", Key: []string{"quote", "date", "what"}, Columns: []string{"quote", "date", "what", "before", "after"},
		Words: true, About: "what was talked of with a supplier"},
	{Sheet: "Overrides", Key: []string{"sheet", "row", "column"}, Texts: []string{"scenario", "value", "state", "edited_cell"},
		About: "a result cell that a person changed"},
}

// OfQuotes tells the sheets of quotes, on which no cost rests.
func OfQuotes(sheet string) bool {
	return slices.Contains([]string{"Quotes", "Quote lines", "Price months", "Freight lanes", "Quote rules", "Negotiation record"}, sheet)
}

// LayoutOf finds the layout of a sheet, ignoring case.
func LayoutOf(sheet string) *Layout {
	for i := range Layouts {
		if strings.EqualFold(Layouts[i].Sheet, strings.TrimSpace(sheet)) {
			return &Layouts[i]
		}
	}
	return nil
}

// SheetRank is the place of an input sheet among all of them, for sorting; 0 without a sheet, last what is none.
func SheetRank(sheet string) int {
	for i := range Layouts {
		if Layouts[i].Sheet == sheet {
			return i + 1
		}
	}
	if sheet == "" {
		return 0
	}
	return len(Layouts) + 1
}
