package costmodel

import (
	"fmt"
	"slices"
	"strings"
)

// askedOfQuotes are the names that Go takes from templates/quotes: facts that it finds, and quantities that it reads. LoadQuotes looks each
// up, so that one that is renamed is an error at start.
const askedOfQuotes = `
after_tools agreed_price amortisation_years amount_half base_month_age base_price_asked base_price_then
capacity_a_week cash_before_start change_amount change_asked change_contracted changed_base clause_base_price
clause_base_scrap clause_change clause_price clause_scrap contract_price counted_amount delivered_cost_a_year
delivery_term differing_grades directed_share duty_included duty_share equal_terms_price exchange_rate
freight_included has_lines has_scrap_line index_change index_counted insurance_included labour_rate labour_rate_half
ladder_breaks lane_duty lane_freight lane_transit_days levelised_delivered_cost line_tolerance list_price
loading_and_export loading_included machine_rate machine_rate_half median_material median_overhead median_price
median_process median_sga median_tools model_cycle_time model_delivery model_extras model_fixed_share model_gross_mass
model_material model_material_price model_net_mass model_overhead model_price model_process model_purchased_parts
model_reject model_scrap_credit model_scrap_price model_sga model_tool_investment notice_over_contract notice_price
other_revision output_per_hour packaging_included payment_days peak_factor plant_hours plant_hours_of_shift
plant_labour_rate plant_machine_rate plant_working_days price_after_amortisation price_at_requested_volume
price_in_model_currency price_once_paid price_unit quoted_material quoted_other quoted_overhead quoted_process
quoted_purchased_parts quoted_scrap_credit quoted_sga rate_age rate_half reduces_material reduction_base round_share
same_prices scrap_price_asked scrap_price_then shared_surcharge stated_after_amortisation stated_cycle_time
stated_gross_mass stated_labour_rate stated_machine_rate stated_net_mass stated_payment_days stated_price
stated_reduction stated_reject stated_scrap_line stated_scrap_mass stated_tool_pieces states_lines states_tools
surcharge_base surcharge_base_half surcharge_product table_rate time_change time_product tool_pieces
tools_for_programme tools_in_price tools_missing_price tools_paid tools_taken_out transit_days truck_price used_amount
validity_days whole_route yearly_reduction
`

func quotesAsked() []string { return strings.Fields(askedOfQuotes) }

// complete returns an error that names a quantity that Go asks for and that the library has not, or a step of the chain that names none.
func (lib *QuoteLibrary) complete() error {
	has := func(name string) bool {
		return slices.ContainsFunc(lib.Templates, func(t *Template) bool {
			return slices.ContainsFunc(t.Items, func(it Item) bool { return it.Name == name })
		})
	}
	for _, name := range quotesAsked() {
		if !has(name) {
			return fmt.Errorf("quotes: there is no quantity %s, which the program asks for by name", name)
		}
	}
	for _, c := range lib.Chain {
		for _, name := range []string{c.Shows, c.Stated, c.Change, c.Sum} {
			if name != "" && !has(name) {
				return fmt.Errorf("%s:%d: step %d of the chain names %s, which is no quantity of quotes", c.Place.File, c.Place.Row, c.Step, name)
			}
		}
	}
	return nil
}
