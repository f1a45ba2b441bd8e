package wire

// QuotesSplit is the answer of quotes --split: how each annual volume is bought at least cost.
type QuotesSplit struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// One for each annual volume.
	Splits []QuoteSplit `json:"splits"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A QuoteSplit is how an annual volume is bought at least cost.
type QuoteSplit struct {
	// The annual volume.
	AnnualVolume float64 `json:"annual_volume"`
	// One or two suppliers; empty where all together have not the capacity.
	Parts []QuoteShare `json:"parts"`
	// Levelised delivered cost a piece; null without parts.
	Cost *float64 `json:"cost_a_piece"`
	// The cheapest supplier who can deliver it all; left out where none can.
	Single *QuoteShare `json:"single,omitempty"`
}

// A QuoteShare is what one supplier delivers.
type QuoteShare struct {
	// Heading of the quote's column.
	Quote string `json:"quote"`
	// Pieces a year.
	Pieces float64 `json:"pieces"`
	// Levelised delivered cost a year.
	CostYear float64 `json:"cost_a_year"`
}

// QuotesClause is the answer of quotes --clause: what an index clause makes of a price month by month.
type QuotesClause struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// Heading of the quote's column.
	Quote string `json:"quote"`
	// The months of the sheet Price months from the base month on.
	Months []QuoteMonth `json:"months"`
	// Pieces with which the tools in the price are paid; null where none are in it.
	ToolPieces *float64 `json:"tool_pieces"`
	// Years until then, at the volume asked for.
	ToolYears *float64 `json:"tool_years"`
	// Price a piece once they are paid.
	PriceOncePaid *float64 `json:"price_once_paid"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A QuoteMonth is a month of an index clause.
type QuoteMonth struct {
	// 2025-03.
	Month string `json:"month"`
	// List price, money per kg.
	List float64 `json:"list_price"`
	// Change of the list price since the base month, in %.
	Index *float64 `json:"index_change"`
	// What the clause counts of it, in %.
	Counted *float64 `json:"counted"`
	// Change of the price, a piece.
	Change *float64 `json:"price_change"`
	// Price by the clause, a piece.
	Price *float64 `json:"price"`
	// Announced price less that by the clause; null without a notice.
	Notice *float64 `json:"notice_above"`
}

// QuotesChange is the answer of quotes --change: a change request priced from a quote's own lines.
type QuotesChange struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// Currency of the quote, of all money here.
	Currency string `json:"currency"`
	// Heading of the quote's column.
	Quote string `json:"quote"`
	// The lines that change, and surcharges that follow them.
	Lines []QuoteChange `json:"lines"`
	// All together, a piece.
	Total float64 `json:"total_a_piece"`
	// What the supplier asks for the change, a piece; left out where that was not said.
	Asked *float64 `json:"asked_a_piece,omitempty"`
	// What does not fit in it; left out where nothing was found.
	Findings []QuoteFinding `json:"findings,omitempty"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A QuoteChange is what a change request adds to a line.
type QuoteChange struct {
	// Number of the line.
	Line string `json:"line"`
	// The supplier's own words.
	Text string `json:"text,omitempty"`
	// A piece.
	Amount float64 `json:"amount"`
}
