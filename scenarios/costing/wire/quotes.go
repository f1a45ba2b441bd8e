package wire

// Quotes is the answer of quotes: what each offer comes to on equal terms, how it stands against the should-cost and what does not fit
// together in it.
type Quotes struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money but where a key says otherwise.
	Currency string `json:"currency"`
	// Annual volume asked for.
	AnnualVolume float64 `json:"annual_volume"`
	// The quotes, in the order of the sheet.
	Quotes []Quote `json:"quotes"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A Quote is a supplier's offer.
type Quote struct {
	// Heading of its column.
	Name string `json:"quote"`
	// Name of the supplier; left out where none is stated.
	Supplier string `json:"supplier,omitempty"`
	// Currency of the quote.
	Currency string `json:"quote_currency"`
	// Exchange rate of the sheet Currencies: model currency for one of the quote's.
	Rate float64 `json:"exchange_rate"`
	// Place by price in the model currency, from 1.
	RankBefore int `json:"rank_before"`
	// Place by levelised delivered cost.
	RankAfter int `json:"rank_after"`
	// The price on equal terms without tools, a piece.
	EqualTerms *float64 `json:"price_on_equal_terms"`
	// The levelised delivered cost, a piece.
	Delivered *float64 `json:"levelised_delivered_cost"`
	// What is paid before the start.
	Cash *float64 `json:"cash_before_start"`
	// Price without tools in the model currency, a piece.
	Price *float64 `json:"price_without_tools"`
	// The same with the amounts that were agreed on in place of the stated ones; left out where none were.
	Agreed *float64 `json:"price_as_agreed,omitempty"`
	// The should-cost of the price without tools, at the supplier's terms; left out where there is none.
	PriceModel *float64 `json:"should_cost_without_tools,omitempty"`
	// The steps from the stated price, in their order.
	Chain []QuoteStep `json:"chain"`
	// Elements of the price and of the should-cost; null where the part could not be costed.
	Elements []QuoteElement `json:"elements"`
	// Lines beside what the should-cost has for them; nothing is spread.
	Lines []QuoteLines `json:"lines"`
	// Rules whose value lies outside their bounds, the largest effect first.
	Findings []QuoteFinding `json:"findings"`
	// What several findings together may mean.
	Patterns []QuotePattern `json:"patterns"`
	// Rules that rest on what is not there.
	NotChecked []QuoteUnchecked `json:"not_checked"`
	// What was not stated, and how to ask for it.
	OpenPoints []QuoteOpenPoint `json:"open_points"`
	// At which value of one assumption the should-cost would be what was quoted.
	Explanations []QuoteExplanation `json:"explanations"`
	// Why there is no should-cost; left out where there is one.
	NoModel []string `json:"no_should_cost,omitempty"`
}

// A QuoteStep is a step of the chain.
type QuoteStep struct {
	// Number of the step.
	Step int `json:"step"`
	// What it does, in words.
	Label string `json:"label"`
	// What it changes, a piece; null where it only states a sum.
	Change *float64 `json:"change"`
	// Where the price then stands; null where it is not said there. Of step 1 in the quote's currency.
	Sum *float64 `json:"sum"`
	// Whether it is shown beside the chain and is no part of it.
	Aside bool `json:"aside,omitempty"`
	// Labels of what the supplier did not state in it, so that the request or the should-cost stands in.
	Assumed []string `json:"assumed,omitempty"`
}

// A QuoteElement is an element of the price without tools.
type QuoteElement struct {
	// Key of the element.
	Element string `json:"element"`
	// Heading.
	Label string `json:"label"`
	// What was quoted, a piece; null without lines.
	Quoted *float64 `json:"quoted"`
	// The should-cost at the supplier's terms, a piece.
	Model *float64 `json:"should_cost"`
	// Quoted less should-cost, a piece.
	More *float64 `json:"more_a_piece"`
	// Likewise a year, at the volume asked for.
	MoreYear *float64 `json:"more_a_year"`
	// Lowest of all quotes. The lowest of each element together are not attainable.
	Best *float64 `json:"lowest"`
	// The quote that has it.
	BestOf string `json:"lowest_of,omitempty"`
	// Median of all quotes.
	Median *float64 `json:"median"`
	// Highest of all quotes.
	Highest *float64 `json:"highest"`
}

// QuoteLines are lines that stand together against the same part of the should-cost.
type QuoteLines struct {
	// Element in words.
	Label string `json:"label"`
	// Key of the part that the lines name; left out where they name none.
	Part string `json:"part,omitempty"`
	// Number of the operation that they name.
	Operation string `json:"operation,omitempty"`
	// The lines; empty where no line stands for this part of the should-cost.
	Lines []QuoteLine `json:"lines"`
	// The lines together, a piece; tools in total.
	Quoted *float64 `json:"quoted"`
	// The should-cost, a piece; null where it has nothing for the lines.
	Model *float64 `json:"should_cost"`
	// Quoted less should-cost.
	More *float64 `json:"more_a_piece"`
	// Likewise a year, at the volume asked for.
	MoreYear *float64 `json:"more_a_year"`
}

// A QuoteLine is a line of a breakdown, a piece, in the model currency.
type QuoteLine struct {
	// Number of the line.
	Line string `json:"line"`
	// The supplier's own words.
	Text string `json:"text,omitempty"`
	// What was quoted, or agreed.
	Quoted *float64 `json:"quoted"`
	// What its own factors come to; null where it states none.
	Product *float64 `json:"of_its_factors"`
}

// A QuoteFinding is a rule whose value lies outside its bounds.
type QuoteFinding struct {
	// Name of the rule.
	Rule string `json:"rule"`
	// What is held against what.
	What string `json:"what"`
	// The line that it is of, "Q1/3"; left out for a rule of the whole quote.
	Line string `json:"line,omitempty"`
	// What it may point to: error, high, low, contract.
	Shows string `json:"shows"`
	// The value, in the unit.
	Value float64 `json:"value"`
	// Lower bound, in the unit; null where there is none.
	Low *float64 `json:"low"`
	// Upper bound, in the unit.
	High *float64 `json:"high"`
	// The unit; empty for a plain number. Money of lines is in the quote's currency.
	Unit string `json:"unit"`
	// Quoted less corrected, a piece, in the currency; null where no money follows.
	Effect *float64 `json:"effect_a_piece"`
	// Likewise a year, at the volume asked for.
	EffectYear *float64 `json:"effect_a_year"`
	// What to ask the supplier.
	Question string `json:"question"`
	// Labels of what the supplier did not state in it.
	Assumed []string `json:"assumed,omitempty"`
}

// A QuotePattern is what several findings together may mean.
type QuotePattern struct {
	// Its name.
	Pattern string `json:"pattern"`
	// What it says, in words.
	Says string `json:"says"`
	// Names of the rules that are its evidence.
	Evidence []string `json:"evidence"`
}

// A QuoteUnchecked is a rule that rests on what is not there.
type QuoteUnchecked struct {
	// Name of the rule.
	Rule string `json:"rule"`
	// What is held against what.
	What string `json:"what"`
	// Labels of what is missing.
	Needs []string `json:"needs"`
}

// A QuoteOpenPoint is something that was not stated.
type QuoteOpenPoint struct {
	// Name of the rule that needs it.
	Rule string `json:"rule"`
	// How to ask for it.
	Ask string `json:"ask"`
}

// A QuoteExplanation is what would make the should-cost what was quoted.
type QuoteExplanation struct {
	// The price without tools, or an element of it.
	Of string `json:"of"`
	// What was quoted, a piece.
	Quoted float64 `json:"quoted"`
	// The should-cost.
	Model float64 `json:"should_cost"`
	// Each assumption alone.
	Single []QuoteAssumption `json:"alone"`
	// Two together, where none alone explains it plausibly.
	Pairs []QuotePair `json:"pairs,omitempty"`
}

// A QuoteAssumption is an assumption of the should-cost.
type QuoteAssumption struct {
	// Its name.
	Assumption string `json:"assumption"`
	// What it would have to be multiplied by; null where nothing explains it.
	Factor *float64 `json:"factor"`
	// Its value in the model, in the unit; null where it is no one number.
	Base *float64 `json:"base"`
	// What it would have to be.
	Needed *float64 `json:"needed"`
	// The unit.
	Unit string `json:"unit"`
	// Lower end of its plausible range; null where none is known.
	Low *float64 `json:"low"`
	// Upper end.
	High *float64 `json:"high"`
	// plausible, outside its range or none explains it.
	Verdict string `json:"verdict"`
}

// A QuotePair is two assumptions that explain a quote together.
type QuotePair struct {
	// The first.
	First string `json:"first"`
	// The second.
	Second string `json:"second"`
	// What the second must be multiplied by for each factor on the first.
	Points []QuotePairPoint `json:"points"`
}

// A QuotePairPoint is a point of the curve of a pair.
type QuotePairPoint struct {
	// Factor on the first.
	First float64 `json:"first_factor"`
	// Factor on the second; null where nothing explains it.
	Second *float64 `json:"second_factor"`
}
