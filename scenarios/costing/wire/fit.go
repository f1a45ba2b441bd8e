package wire

// Fit is the answer of fit: coefficients of the build-up of tool prices, fitted to past tools.
type Fit struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The currency of all money.
	Currency string `json:"currency"`
	// The kinds of tool, in the order of the sheet Past tools.
	Kinds []FitKind `json:"kinds"`
	// What was put into the workbook; left out where nothing was.
	Accepted *FitAccepted `json:"accepted,omitempty"`
	// What the results are not for.
	Caution string `json:"caution"`
}

// A FitKind is one kind of tool.
type FitKind struct {
	// The kind of tool; "machine" and its key where the price relation of a row of Machines is fitted.
	Kind string `json:"kind"`
	// Number of past tools.
	Count int `json:"count"`
	// Why nothing was fitted, and what to do; empty where something was.
	Refused []string `json:"refused"`
	// The coefficients that were chosen.
	Coefficients []FitCoefficient `json:"coefficients"`
	// Coefficients that are usually fitted, but that no past tool tells anything of.
	LeftOut []string `json:"left_out"`
	// The past tools; empty where nothing was fitted.
	Tools []FitTool `json:"tools"`
	// How well they are met; left out where nothing was fitted.
	Quality *FitQuality `json:"quality,omitempty"`
	// What is doubtful, each with what to do.
	Warnings []string `json:"warnings"`
	// Whether every coefficient was found well enough to be taken over.
	Acceptable bool `json:"acceptable"`
}

// A FitCoefficient is a coefficient as it stands and as it was fitted.
type FitCoefficient struct {
	// Its name, as under Coefficient in the sheet Tool relations.
	Name string `json:"name"`
	// The unit of its values.
	Unit string `json:"unit"`
	// The value in force.
	InForce float64 `json:"in_force"`
	// Whether that is a placeholder of the library.
	Placeholder bool `json:"placeholder"`
	// The fitted value; null where nothing was fitted.
	Value *float64 `json:"value"`
	// What became of it: found, at its bound, held; empty where nothing was fitted.
	State string `json:"state"`
	// Standard error; null where it was not found.
	Error *float64 `json:"standard_error"`
	// Lower end of its confidence interval; null where it was not found.
	Low *float64 `json:"low"`
	// Upper end of its confidence interval; null where it was not found.
	High *float64 `json:"high"`
	// Whether the data can hardly tell it.
	Unreliable bool `json:"unreliable"`
}

// A FitTool is a past tool and what the fit says of it.
type FitTool struct {
	// Its name.
	Tool string `json:"tool"`
	// What it has cost, in the model currency.
	Price float64 `json:"price"`
	// What the fit comes to.
	Fitted float64 `json:"fitted"`
	// Price less fitted.
	Residual float64 `json:"residual"`
	// What the other tools alone say; null where they can't.
	LeftOut *float64 `json:"left_out"`
	// How much of its fitted price is its own price, 0 to 1.
	Leverage float64 `json:"leverage"`
	// Cook's distance: how far the fit moves without it.
	Cook float64 `json:"cook"`
}

// FitQuality says how well past tools are met.
type FitQuality struct {
	// Whose squares were made least: relative error or absolute error.
	Weighting string `json:"weighting"`
	// The confidence of the intervals, as a fraction.
	Confidence float64 `json:"confidence"`
	// Past tools less coefficients found.
	Freedom int `json:"degrees_of_freedom"`
	// Standard deviation of the residuals: a fraction of the price where relative, else money.
	Deviation float64 `json:"residual_standard_deviation"`
	// Root mean square of what the others alone miss each tool by, likewise.
	LeftOut float64 `json:"left_out_error"`
	// Number of tools that the others can tell.
	LeftOutCount int `json:"left_out_count"`
	// Share of the variation that the fit explains; null where the prices do not vary.
	R2 *float64 `json:"r2"`
}

// FitAccepted says what was put into a workbook.
type FitAccepted struct {
	// The file that was written.
	File string `json:"file"`
	// The kinds of tool.
	Kinds []string `json:"kinds"`
	// First new row of the sheet Tool relations.
	First int `json:"first_row"`
	// Last new row.
	Last int `json:"last_row"`
	// Number of values that were in force and are kept as replaced.
	Replaced int `json:"replaced"`
}
