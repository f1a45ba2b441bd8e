package scenarios

import "slices"

// Changes of the sample's quotes by which a rule is broken, and the same with the value just inside its bounds. Values and effects are
// reckoned by hand from the cells; m is the should-cost of the part, whose figures stand for themselves.

// A quoteRuleCase is a rule with one change that breaks it and one that does not.
type quoteRuleCase struct {
	rule, quote    string
	with           []string // changed in both
	breaks, inside string
	value          func(m refModel) float64
	effect         func(m refModel) float64 // nil where no money follows
}

func fixedAt(v float64) func(refModel) float64 { return func(refModel) float64 { return v } }

const (
	pay9over6 = 0.22291978 / 120000 // annuity of 1 over 6 years at 9 %, a piece; of tables of compound interest (Grant, Ireson: 0.22292)
	worth9of6 = 4.4859186           // present worth of 6 payments of 1 at 9 % (4.4859), both to more digits by calculator
	listQ1    = (0.85+0.86+0.86)/3 + 0.48
	baseQ1    = (0.85 + 0.86 + 0.86) / 3
)

const inVanPlant = "Q1 | Plant | Van plant"

var lanes = []string{"freight_lanes.csv | = | From,Delivery term,Freight,Duty,Transit days,Truck", "freight_lanes.csv | + | North,,,,,1000",
	"Q1 | Place | North"}

var noLines = []string{"Q1/1 | delete", "Q1/2 | delete", "Q1/3 | delete", "Q1/4 | delete", "Q1/5 | delete"}

var quoteRuleCases = []quoteRuleCase{
	{rule: "r1", breaks: "Q1 | Price | 15.50", inside: "Q1 | Price | 15.49", value: fixedAt(0.04), effect: fixedAt(0.04)},
	{rule: "r1", with: []string{"Q1 | Price unit | 100"}, breaks: "Q1 | Price | 1549.00", inside: "Q1 | Price | 1548.50", value: fixedAt(0.03),
		effect: fixedAt(0.03)},
	{rule: "r1", quote: "Q2", breaks: "Q2 | Price | 409.60", inside: "Q2 | Price | 409.59", value: fixedAt(0.04), effect: fixedAt(0.04 * 0.0398)},
	{rule: "r2 Q1/1", breaks: "Q1/1 | Amount | 8.63", inside: "Q1/1 | Amount | 8.62", value: fixedAt(8.63 - 6.45*1.33), effect: fixedAt(8.63 - 6.45*1.33)},
	{rule: "r2 Q1/1", breaks: "Q1/1 | Amount | 8.53", inside: "Q1/1 | Amount | 8.54", value: fixedAt(8.53 - 6.45*1.33), effect: fixedAt(8.53 - 6.45*1.33)},
	{rule: "r2 Q1/2", breaks: "Q1/2 | Amount | -0.12", inside: "Q1/2 | Amount | -0.11", value: fixedAt(-0.12 + 0.4*0.24), effect: fixedAt(-0.12 + 0.4*0.24)},
	{rule: "r2 Q2/1", quote: "Q2", breaks: "Q2/1 | Amount | 230.50", inside: "Q2/1 | Amount | 230.40", value: fixedAt(230.50 - 6.6*34.6),
		effect: fixedAt((230.50 - 6.6*34.6) * 0.0398)},
	{rule: "r2 Q1/1", with: []string{"Q1/1 | Rate | 1290 EUR/t"}, breaks: "Q1/1 | Amount | 8.34", inside: "Q1/1 | Amount | 8.33",
		value:  fixedAt(8.34 - 6.45*1.29),
		effect: fixedAt(8.34 - 6.45*1.29)},
	{rule: "r3 Q1/3", breaks: "Q1/3 | Amount | 1.71", inside: "Q1/3 | Amount | 1.72", value: fixedAt(1.71 - 26.0*246/3600/0.984),
		effect: fixedAt(1.71 - 26.0*246/3600/0.984)},
	{rule: "r3 Q1/3", with: []string{"Q1/3 | Part | B05", "Q1/3 | Operation | 20"}, breaks: "Q1/3 | Amount | 1.86", inside: "Q1/3 | Amount | 1.85",
		value: fixedAt(1.86 - 26.0*246/3600/0.984), effect: fixedAt(1.86 - 26.0*246/3600/0.984)},
	{rule: "r3 Q1/3", with: []string{"Q1/3 | Part | B05", "Q1/3 | Operation | 20", "Q1/3 | Pieces per cycle | 2", "Q1/3 | Machine rate | 205.2"},
		breaks: "Q1/3 | Amount | 0.87",
		inside: "Q1/3 | Amount | 0.88", value: fixedAt(0.87 - 26*246.2/3600/2/0.984), effect: fixedAt(0.87 - 26*246.2/3600/2/0.984)},
	{rule: "r3 Q1/3", with: []string{"Q1/3 | Crew | 2"}, breaks: "Q1/3 | Amount | 2.00", inside: "Q1/3 | Amount | 2.01", // 95 % of 2.1065 are 2.0012
		value: fixedAt(2 - 26.0*287/3600/0.984), effect: fixedAt(2 - 26.0*287/3600/0.984)},
	{rule: "r3 Q1/3", with: []string{"Q1/3 | Part | B05", "Q1/3 | Operation | 20", "Q1/3 | Crew | 2", "Q1/3 | Labour rate | 41.2"}, // 2.1094, at most 2.1583
		breaks: "Q1/3 | Amount | 2.17", inside: "Q1/3 | Amount | 2.16", value: fixedAt(2.17 - 26.0*287.4/3600/0.984),
		effect: fixedAt(2.17 - 26.0*287.4/3600/0.984)},
	{rule: "r3 Q1/3", with: []string{"Q1/3 | Part | B05", "Q1/3 | Operation | 20", "Q1/3 | Crew |", "Q1/3 | Reject |"}, // 1.4806, at most 1.5127
		breaks: "Q1/3 | Amount | 1.52", inside: "Q1/3 | Amount | 1.51", value: fixedAt(1.52 - 26.0*205/3600), effect: fixedAt(1.52 - 26.0*205/3600)},
	{rule: "r3 Q2/3", quote: "Q2", breaks: "Q2/3 | Amount | 42.70", inside: "Q2/3 | Amount | 42.80", value: fixedAt(42.70 - 30.0*5210/3600/0.965),
		effect: fixedAt((42.70 - 30.0*5210/3600/0.965) * 0.0398)},
	{rule: "r3s Q1/4", with: []string{"Q1/4 | Surcharge | 12.3", "Q1/4 | On | 1-3"}, breaks: "Q1/4 | Amount | 1.44", inside: "Q1/4 | Amount | 1.43",
		value: fixedAt(1.44 - 0.123*11.53), effect: fixedAt(1.44 - 0.123*11.53)},
	{rule: "r3s Q1/4", with: []string{"Q1/4 | Surcharge | 12.3 %", "Q1/4 | On | 1-3"}, breaks: "Q1/4 | Amount | 1.44", inside: "Q1/4 | Amount | 1.43",
		value: fixedAt(1.44 - 0.123*11.53), effect: fixedAt(1.44 - 0.123*11.53)},
	{rule: "r3s Q1/4", with: []string{"Q1/4 | Surcharge | 300", "Q1/4 | On | 1;process"}, breaks: "Q1/4 | Amount | 35.00", inside: "Q1/4 | Amount | 34.90",
		value: fixedAt(35 - 3*11.63), effect: fixedAt(35 - 3*11.63)},
	{rule: "r4", breaks: "Q1/1 | Material | M05", inside: "Q1/1 | Material | M07", value: fixedAt(1)},
	{rule: "r5", breaks: "Q1/1 | Quantity | 6.73", inside: "Q1/1 | Quantity | 6.72", value: func(m refModel) float64 { return 6.73 / m.gross },
		effect: func(m refModel) float64 { return (6.73 - m.gross) * listQ1 }},
	{rule: "r5", breaks: "Q1/1 | Quantity | 6.21", inside: "Q1/1 | Quantity | 6.22", value: func(m refModel) float64 { return 6.21 / m.gross },
		effect: func(m refModel) float64 { return (6.21 - m.gross) * listQ1 }},
	{rule: "r6", breaks: "Q1/2 | Quantity | 0.24", inside: "Q1/2 | Quantity | 0.25", value: func(m refModel) float64 { return 6.21 / m.net }},
	{rule: "r6", breaks: "Q1/2 | Quantity | 0.61", inside: "Q1/2 | Quantity | 0.60", value: func(m refModel) float64 { return 5.84 / m.net }},
	{rule: "r7", breaks: "Q1/1 | Amount | 9.06", inside: "Q1/1 | Amount | 9.05", value: fixedAt(9.06 / 6.45 / listQ1), effect: fixedAt(9.06 - 6.45*listQ1)},
	{rule: "r7", breaks: "Q1/1 | Amount | 8.19", inside: "Q1/1 | Amount | 8.20", value: fixedAt(8.19 / 6.45 / listQ1), effect: fixedAt(8.19 - 6.45*listQ1)},
	{rule: "r7", with: []string{"Q1 | Scrap | netted"}, breaks: "Q1/1 | Amount | 8.96", inside: "Q1/1 | Amount | 8.95", // less 0.24 x 0.40/6.45 a kilogram
		value: fixedAt(8.96 / 6.45 / (listQ1 - 0.24*0.4/6.45)), effect: fixedAt(8.96 - 6.45*listQ1 + 0.24*0.4)},
	{rule: "r7", with: []string{"Q1 | Base month | 2020-01"}, breaks: "Q1/1 | Amount | 9.08", inside: "Q1/1 | Amount | 9.07", // Materials: 0.86 + 0.48
		value: fixedAt(9.08 / 6.45 / 1.34), effect: fixedAt(9.08 - 6.45*1.34)},
	{rule: "r7", with: []string{"Q1 | Base month | 2020-01", "Q1 | Scrap | netted"}, breaks: "Q1/1 | Amount | 8.98", inside: "Q1/1 | Amount | 8.97",
		value: fixedAt(8.98 / (6.45*1.34 - 0.25*0.4)), effect: fixedAt(8.98 - 6.45*1.34 + 0.25*0.4)},
	{rule: "r7", with: []string{"Q1 | Scrap |"}, breaks: "Q1/1 | Amount | 9.06", inside: "Q1/1 | Amount | 9.05", value: fixedAt(9.06 / 6.45 / listQ1),
		effect: fixedAt(9.06 - 6.45*listQ1)},
	{rule: "r8", breaks: "Q1/2 | Amount | -0.06", inside: "Q1/2 | Amount | -0.07", value: fixedAt(0.15 / baseQ1), effect: fixedAt(0.4 * (0.2*baseQ1 - 0.15))},
	{rule: "r8", breaks: "Q1/2 | Amount | -0.14", inside: "Q1/2 | Amount | -0.13", value: fixedAt(0.35 / baseQ1), effect: fixedAt(0.4 * (0.4*baseQ1 - 0.35))},
	{rule: "r8", with: []string{"Q1 | Scrap |"}, breaks: "Q1/2 | Amount | -0.06", inside: "Q1/2 | Amount | -0.07", value: fixedAt(0.15 / baseQ1),
		effect: fixedAt(0.4 * (0.2*baseQ1 - 0.15))},
	{rule: "r8", with: []string{"Q1/2 | Amount | -0.20"}, breaks: "Q1 | Scrap | kept by supplier", inside: "Q1 | Scrap | netted", value: fixedAt(0),
		effect: fixedAt(0.4 * 0.2 * baseQ1)},
	{rule: "r8", with: []string{"Q1/2 | Amount | 0.00"}, breaks: "Q1/2 | Quantity | 0.13", inside: "Q1/2 | Quantity | 0.12", value: fixedAt(0),
		effect: fixedAt(0.13 * 0.2 * baseQ1)}, // 2.02 % and 1.86 % of 6.45 kg
	{rule: "r8", with: []string{"Q1 | Base month | 2020-01"}, breaks: "Q1/2 | Amount | -0.06", inside: "Q1/2 | Amount | -0.07", value: fixedAt(0.15 / 0.86),
		effect: fixedAt(0.4 * (0.2*0.86 - 0.15))}, // Materials has 0.86
	{rule: "r8", quote: "Q2", breaks: "Q2/2 | Amount | -2.00", inside: "Q2/2 | Amount | -3.00", value: fixedAt(2 * 0.0398 / 0.55 / 0.86),
		effect: fixedAt(0.55*0.2*0.86 - 2*0.0398)},
	{rule: "r8", with: []string{"Q1/2 | Amount | 0.00"}, breaks: "Q1/2 | Quantity | 0.13", inside: "Q1/2 | Quantity | 0.128", value: fixedAt(0),
		effect: fixedAt(0.13 * 0.2 * baseQ1)},
	{rule: "r9", breaks: "Q1 | Price | 11.12", inside: "Q1 | Price | 11.13", value: func(m refModel) float64 { return 11.12 / (m.gross * listQ1) },
		effect: func(m refModel) float64 { return 11.12 - 1.3*m.gross*listQ1 }},
	{rule: "r10", breaks: "Q1 | Tools in price | 0.01", inside: "Q1 | Tools in price | 0.00", value: fixedAt(1200 * worth9of6), effect: fixedAt(0.01)},
	{rule: "r10", with: []string{"Q1 | Tools in price | 2.00"}, breaks: "Q1 | Tools paid | 1000", inside: "Q1 | Tools paid | 0", value: fixedAt(1000),
		effect: fixedAt(1000 * pay9over6)},
	{rule: "r11", with: []string{"Q1 | Tools in price | 1.00"}, breaks: "Q1 | Tool pieces | 503000", inside: "Q1 | Tool pieces | 504000",
		value:  fixedAt(503.0 / 720),
		effect: fixedAt(217.0 / 720)},
	{rule: "r11", with: []string{"Q1 | Tools in price | 1.00"}, breaks: "Q1 | Tool pieces | 793000", inside: "Q1 | Tool pieces | 792000",
		value:  fixedAt(793.0 / 720),
		effect: fixedAt(-73.0 / 720)},
	{rule: "r12", breaks: "Q1 | Annual volume | 122401", inside: "Q1 | Annual volume | 122400", value: fixedAt(1.2240100 / 1.2)},
	{rule: "r12", breaks: "Q1 | Annual volume | 117599", inside: "Q1 | Annual volume | 117600", value: fixedAt(1.17599 / 1.2)},
	{rule: "r13", breaks: "Q1 | Capacity a week | 2874", inside: "Q1 | Capacity a week | 2875", value: fixedAt(2874.0 / 2875)},
	{rule: "r13", with: []string{"Request | Peak factor |"}, breaks: "Q1 | Capacity a week | 2874", inside: "Q1 | Capacity a week | 2875",
		value: fixedAt(2874.0 / 2875)},
	{rule: "r13", with: []string{"Request | Peak factor | 1.2"}, breaks: "Q1 | Capacity a week | 2999", inside: "Q1 | Capacity a week | 3000",
		value: fixedAt(2999.0 / 3000)},
	{rule: "r14", breaks: "Q1 | Tool sets | 1", inside: "Q1 | Tool sets | 2", value: fixedAt(0.5), effect: fixedAt(-278000 * pay9over6)},
	{rule: "r14", with: []string{"Q1 | Tool sets | 1"}, breaks: "Q1 | Tool life | 719999", inside: "Q1 | Tool life | 720000", value: fixedAt(0.5),
		effect: fixedAt(-278000 * pay9over6)},
	{rule: "r14t Q1/6", with: []string{"Q1/6 | Element | tool", "Q1/6 | Amount | 100000", "Q1/6 | Quantity | 1"}, breaks: "Q1/6 | Life | 250000",
		inside: "Q1/6 | Life | 720000", value: fixedAt(1.0 / 3), effect: fixedAt(-200000 * pay9over6)},
	{rule: "r15", breaks: "Q1/3 | Time | 32.6", inside: "Q1/3 | Time | 32.5", value: fixedAt(32.6 / 26), effect: fixedAt(6.6 * 246.0 / 3600)},
	{rule: "r15", breaks: "Q1/3 | Time | 22", inside: "Q1/3 | Time | 22.1", value: fixedAt(22.0 / 26), effect: fixedAt(-4 * 246.0 / 3600)},
	{rule: "r15", quote: "Q2", breaks: "Q2/3 | Time | 32.6", inside: "Q2/3 | Time | 32.5", value: fixedAt(32.6 / 26),
		effect: fixedAt(6.6 * 5210.0 / 3600 * 0.0398)},
	{rule: "r16", with: []string{inVanPlant}, breaks: "Q1/3 | Labour rate | 48", inside: "Q1/3 | Labour rate | 47.5", value: fixedAt(48.0 / 38),
		effect: fixedAt(10 * 26.0 / 3600)},
	{rule: "r16", with: []string{inVanPlant, "Q1/3 | Crew | 0.5"}, breaks: "Q1/3 | Labour rate | 30", inside: "Q1/3 | Labour rate | 30.4",
		value:  fixedAt(30.0 / 38),
		effect: fixedAt(-8 * 0.5 * 26.0 / 3600)},
	{rule: "r16", quote: "Q2", with: []string{"Q2 | Plant | Van plant"}, breaks: "Q2/3 | Labour rate | 763", inside: "Q2/3 | Labour rate | 764",
		value: fixedAt(763 * 0.0398 / 38), effect: fixedAt((763*0.0398 - 38) * 30 / 3600)},
	{rule: "r17", breaks: "Q1/3 | Reject | 3.44", inside: "Q1/3 | Reject | 3.43", value: fixedAt(0.0344 / (1 - 0.994*0.985*0.998)),
		effect: fixedAt((0.0344 - (1 - 0.994*0.985*0.998)) * 11.63)},
	{rule: "r17", breaks: "Q1/3 | Reject | 1.14", inside: "Q1/3 | Reject | 1.15", value: fixedAt(0.0114 / (1 - 0.994*0.985*0.998)),
		effect: fixedAt((0.0114 - (1 - 0.994*0.985*0.998)) * 11.63)},
	{rule: "r17", with: []string{"Q1/6 | Element | process", "Q1/6 | Operation | 10", "Q1/6 | Amount | 1.00", "Q1/6 | Reject | 1"},
		// 1 - 0.99 (1 - r) up to 3.43 %
		breaks: "Q1/3 | Reject | 2.46", inside: "Q1/3 | Reject | 2.45", value: fixedAt((1 - 0.99*0.9754) / (1 - 0.994*0.985*0.998)),
		effect: fixedAt((1 - 0.99*0.9754 - (1 - 0.994*0.985*0.998)) * 12.63)},
	{rule: "r17", with: []string{"Q1/6 | Element | rejects", "Q1/6 | Amount | 0.50"}, breaks: "Q1/3 | Reject | 3.44", inside: "Q1/3 | Reject | 3.43",
		value: fixedAt(0.0344 / (1 - 0.994*0.985*0.998)), effect: fixedAt((0.0344 - (1 - 0.994*0.985*0.998)) * 12.13)},
	{rule: "r18", quote: "Q2", with: []string{"Q2/7 | Element | purchased parts", "Q2/7 | Amount | 50", "Q2/8 | Element | other", "Q2/8 | Amount | 70"},
		breaks: "Q2/5 | Amount | 26.30", inside: "Q2/5 | Amount | 26.40", value: fixedAt(26.30 / 439.66), effect: fixedAt((26.30 - 0.06*439.66) * 0.0398)},
	{rule: "r18", breaks: "Q1/5 | Amount | 2.34", inside: "Q1/5 | Amount | 2.33", value: fixedAt(2.34 / 12.95), effect: fixedAt(2.34 - 0.18*12.95)},
	{rule: "r18", breaks: "Q1/5 | Amount | 0.77", inside: "Q1/5 | Amount | 0.78", value: fixedAt(0.77 / 12.95), effect: fixedAt(0.77 - 0.06*12.95)},
	{rule: "r18", with: []string{"Q1/6 | Element | other", "Q1/6 | Amount | 1.00"}, breaks: "Q1/5 | Amount | 2.52", inside: "Q1/5 | Amount | 2.51",
		value: fixedAt(2.52 / 13.95), effect: fixedAt(2.52 - 0.18*13.95)},
	{rule: "r18", with: []string{"Q1/6 | Element | profit", "Q1/6 | Amount | 1.00", "Q1/7 | Element | packaging", "Q1/7 | Amount | 1.00",
		"Q1/8 | Element | set-up", "Q1/8 | Amount | 1.00"},
		breaks: "Q1/5 | Amount | 1.52", inside: "Q1/5 | Amount | 1.51", value: fixedAt(2.52 / 13.95), effect: fixedAt(2.52 - 0.18*13.95)},
	{rule: "r19", quote: "Q2", breaks: "Q2 | Exchange rate | 0.0406", inside: "Q2 | Exchange rate | 0.04059", value: fixedAt(406.0 / 398)},
	{rule: "r19", quote: "Q2", breaks: "Q2 | Exchange rate | 0.0390", inside: "Q2 | Exchange rate | 0.03901", value: fixedAt(390.0 / 398)},
	{rule: "r19m", quote: "Q2", breaks: "Q2 | Exchange-rate date | 2025-01-31", inside: "Q2 | Exchange-rate date | 2025-02-01", value: fixedAt(1)},
	{rule: "r19m", quote: "Q2", breaks: "Q2 | Exchange-rate date | 2025-03-01", inside: "Q2 | Exchange-rate date | 2025-02-28", value: fixedAt(1)},
	{rule: "r20", breaks: "Q1 | Index clause | one way", inside: "Q1 | Index clause | both ways", value: fixedAt(0)},
	{rule: "r20m", breaks: "Q1 | Base month | 2024-10", inside: "Q1 | Base month | 2024-11", value: fixedAt(4)},
	{rule: "r20m", breaks: "Q1 | Base month | 2024-Q3", inside: "Q1 | Base month | 2024-Q4", value: fixedAt(5)},
	{rule: "r21", with: []string{inVanPlant}, breaks: "Q1 | Working days | 215", inside: "Q1 | Working days | 216", value: fixedAt(215.0 / 240)},
	{rule: "r21", with: []string{inVanPlant}, breaks: "Q1 | Working days | 265", inside: "Q1 | Working days | 264", value: fixedAt(265.0 / 240)},
	{rule: "r21", with: []string{inVanPlant}, breaks: "Q1 | Shifts | 3", inside: "Q1 | Shifts | 2", value: fixedAt(238 * 24.0 / (240 * 16))},
	{rule: "r22", breaks: "Q1 | Valid until | 2025-06-29", inside: "Q1 | Valid until | 2025-06-30", value: fixedAt(-86400)},
	{rule: "r23", breaks: "Q1 | Tools paid | 664501", inside: "Q1 | Tools paid | 664500", value: fixedAt(664501.0 / 443000),
		effect: fixedAt(221501 * pay9over6)},
	{rule: "r23", breaks: "Q1 | Tools paid | 265799", inside: "Q1 | Tools paid | 265800", value: fixedAt(265799.0 / 443000),
		effect: fixedAt(-177201 * pay9over6)},
	{rule: "r24", breaks: "Q1 | Tool owner | supplier", inside: "Q1 | Tool owner | customer", value: fixedAt(1)},
	{rule: "r24", with: []string{"Q1 | Tool owner | supplier"}, breaks: "Q1 | Tools paid | 1", inside: "Q1 | Tools paid |", value: fixedAt(1)},
	{rule: "r25", with: []string{inVanPlant}, breaks: "Q1/3 | Machine rate | 389", inside: "Q1/3 | Machine rate | 388", // 1.4 x 277.31
		value: func(m refModel) float64 { return 389 / m.machineRate }, effect: func(m refModel) float64 { return (389 - m.machineRate) * 26 / 3600 }},
	{rule: "r25", with: []string{inVanPlant}, breaks: "Q1/3 | Machine rate | 194", inside: "Q1/3 | Machine rate | 195", // 0.7 x 277.31
		value: func(m refModel) float64 { return 194 / m.machineRate }, effect: func(m refModel) float64 { return (194 - m.machineRate) * 26 / 3600 }},
	{rule: "r26 Q1/6", with: []string{"Q1/6 | Element | purchased parts", "Q1/6 | Amount | 2.00", "Q1/6 | Directed | yes", "Q1/4 | On | 1-3;6"},
		breaks: "Q1/4 | Surcharge | 5.1", inside: "Q1/4 | Surcharge | 5", value: fixedAt(0.051), effect: fixedAt(0.001 * 2)},
	{rule: "r26 Q1/6", with: []string{"Q1/6 | Element | purchased parts", "Q1/6 | Amount | 2.00", "Q1/6 | Directed | yes", "Q1/4 | On | 1-3;6",
		"Q1/4 | Surcharge | 3", "Q1/7 | Element | overhead", "Q1/7 | Surcharge | 3"}, breaks: "Q1/7 | On | purchased parts", inside: "Q1/7 | On | 1",
		value: fixedAt(0.06), effect: fixedAt(0.01 * 2)},
	{rule: "r26 Q2/1", quote: "Q2", with: []string{"Q2/1 | Directed | yes", "Q2/4 | On | material"}, breaks: "Q2/4 | Surcharge | 8",
		inside: "Q2/4 | Surcharge | 5",
		value:  fixedAt(0.08), effect: fixedAt(0.03 * 228.36 * 0.0398)},
	{rule: "r27", with: []string{"Q1/4 | Surcharge | 10", "Q1/4 | On | 1-3", "Q1/6 | Element | overhead", "Q1/6 | Surcharge | 4", "Q1/6 | Amount | 0.12"},
		breaks: "Q1/6 | On | process", inside: "Q1/6 | On | purchased parts", value: fixedAt(0.04 * 3.05), effect: fixedAt(0.04 * 3.05)},
	{rule: "r27", with: []string{"Q1/5 | Surcharge | 10"}, breaks: "Q1/5 | On | 1-5", inside: "Q1/5 | On | 1-4", value: fixedAt(0.251), effect: fixedAt(0.251)},
	{rule: "r27", quote: "Q2", with: []string{"Q2/4 | Surcharge | 10"}, breaks: "Q2/4 | On | 1-3;SG&A", inside: "Q2/4 | On | 1-3", value: fixedAt(4.86),
		effect: fixedAt(4.86 * 0.0398)},
	// 26 s make 138.46 an hour: 92 % are 127.38, 60 % are 83.08; 30 s with two pieces make 240, of which 92 % are 220.8
	{rule: "r28 Q1/3", breaks: "Q1/3 | Output per hour | 128", inside: "Q1/3 | Output per hour | 127", value: fixedAt(128 * 26.0 / 3600),
		effect: fixedAt(246.0/128 - 26*246.0/3600/0.92)},
	{rule: "r28 Q1/3", breaks: "Q1/3 | Output per hour | 83", inside: "Q1/3 | Output per hour | 84", value: fixedAt(83 * 26.0 / 3600),
		effect: fixedAt(246.0/83 - 26*246.0/3600/0.6)},
	{rule: "r28 Q2/3", quote: "Q2", with: []string{"Q2/3 | Pieces per cycle | 2"}, breaks: "Q2/3 | Output per hour | 221",
		inside: "Q2/3 | Output per hour | 220",
		value:  fixedAt(221 * 15.0 / 3600), effect: fixedAt((5210.0/221 - 15*5210.0/3600/0.92) * 0.0398)},
	{rule: "r29", with: []string{inVanPlant, "Q1 | Shifts | 2", "Q1/3 | Time | 20"}, breaks: "Q1 | Capacity a week | 15709",
		inside: "Q1 | Capacity a week | 15708",
		value:  fixedAt(15709 / (238.0 / 48 * 16 * 3600 / 20))},
	{rule: "r30 Q1/6", with: []string{"Q1/6 | Element | set-up", "Q1/6 | Amount | 0.30"}, breaks: "Q1/6 | Batch | 12000", inside: "Q1/6 | Batch | 10000",
		value: fixedAt(1.2), effect: fixedAt(-0.2 * 0.3)},
	{rule: "r30 Q2/7", quote: "Q2", with: []string{"Q2/7 | Element | set-up", "Q2/7 | Amount | 7.50"}, breaks: "Q2/7 | Batch | 400",
		inside: "Q2/7 | Batch | 500",
		value:  fixedAt(0.04), effect: fixedAt(0.2 * 7.5 * 0.0398)},
	{rule: "r29", with: []string{inVanPlant, "Q1 | Shifts | 2"}, breaks: "Q1 | Capacity a week | 12084", inside: "Q1 | Capacity a week | 12083",
		value: fixedAt(12084 / (238.0 / 48 * 16 * 3600 / 26))},
	{rule: "r31", breaks: "Q1 | Price at 150000 | 15.46", inside: "Q1 | Price at 150000 | 15.45", value: fixedAt(1)},
	{rule: "r31", breaks: "Q1 | Price at 150000 | 12.36", inside: "Q1 | Price at 150000 | 12.37", value: fixedAt(1)},
	{rule: "r31", breaks: "Q1 | Price at 60000 | 15.45", inside: "Q1 | Price at 60000 | 15.47", value: fixedAt(1)},
	{rule: "r31", breaks: "Q1 | Price at 120000 | 15.40", inside: "Q1 | Price at 120000 | 15.46", value: fixedAt(1)},
	{rule: "r32", breaks: "Q1 | Price | 15.69", inside: "Q1 | Price | 15.68", value: fixedAt(15.69 / ((370.7*0.0398 + 10.35) / 2)),
		effect: fixedAt(15.69 - 1.25*(370.7*0.0398+10.35)/2)},
	{rule: "r32", breaks: "Q1 | Price | 9.41", inside: "Q1 | Price | 9.42", value: fixedAt(9.41 / ((370.7*0.0398 + 10.35) / 2)),
		effect: fixedAt(9.41 - 0.75*(370.7*0.0398+10.35)/2)},
	{rule: "r32m", breaks: "Q1/1 | Amount | 9.75", inside: "Q1/1 | Amount | 9.74", value: fixedAt(9.75 / midMaterial),
		effect: fixedAt(9.75 - 1.25*midMaterial)},
	{rule: "r32m", breaks: "Q1/1 | Amount | 5.84", inside: "Q1/1 | Amount | 5.85", value: fixedAt(5.84 / midMaterial),
		effect: fixedAt(5.84 - 0.75*midMaterial)},
	{rule: "r32p", breaks: "Q1/3 | Amount | 2.24", inside: "Q1/3 | Amount | 2.23", value: fixedAt(2.24 / midProcess), effect: fixedAt(2.24 - 1.25*midProcess)},
	{rule: "r32p", breaks: "Q1/3 | Amount | 1.34", inside: "Q1/3 | Amount | 1.35", value: fixedAt(1.34 / midProcess), effect: fixedAt(1.34 - 0.75*midProcess)},
	{rule: "r32o", breaks: "Q1/4 | Amount | 1.54", inside: "Q1/4 | Amount | 1.53", value: fixedAt(1.54 / midOverhead),
		effect: fixedAt(1.54 - 1.25*midOverhead)},
	{rule: "r32o", breaks: "Q1/4 | Amount | 0.92", inside: "Q1/4 | Amount | 0.93", value: fixedAt(0.92 / midOverhead),
		effect: fixedAt(0.92 - 0.75*midOverhead)},
	{rule: "r32g", breaks: "Q1/5 | Amount | 2.14", inside: "Q1/5 | Amount | 2.13", value: fixedAt(2.14 / midSGA), effect: fixedAt(2.14 - 1.25*midSGA)},
	{rule: "r32g", breaks: "Q1/5 | Amount | 1.28", inside: "Q1/5 | Amount | 1.29", value: fixedAt(1.28 / midSGA), effect: fixedAt(1.28 - 0.75*midSGA)},
	{rule: "r32s", breaks: "Q1 | Price | 16.40", inside: "Q1 | Price | 16.39", value: fixedAt(1)},
	{rule: "r33", with: []string{"Q1 | Price | 30.00"}, breaks: "Q1 | Yearly reduction | 3.6", inside: "Q1 | Yearly reduction | 3.5", value: fixedAt(1),
		effect: func(m refModel) float64 { return 30 - 1.05*modelQ1(m) }},
	{rule: "r33", with: []string{"Q1 | Yearly reduction | 4"}, breaks: "Q1 | Price | 15.97", inside: "Q1 | Price | 15.96", value: fixedAt(1), // 1.05 x 15.2068
		effect: func(m refModel) float64 { return 15.97 - 1.05*modelQ1(m) }},
	// the should-cost of Q1 has 8.78 of material, 4.29 of process, 0.69 of overhead, 1.43 of SG&A and profit, 15.21 in all
	{rule: "r33u", with: with(likeModel, "Q1/1 | Amount | 13.50"), breaks: "Q1/3 | Amount | 2.87", inside: "Q1/3 | Amount | 2.88", value: fixedAt(1)},
	{rule: "r33u", with: with(likeModel, "Q1/4 | Amount | 0.40"), breaks: "Q1/3 | Amount | 6.44", inside: "Q1/3 | Amount | 6.43", value: fixedAt(1)},
	{rule: "r33u", with: with(likeModel, "Q1/5 | Amount | 0.80"), breaks: "Q1/4 | Amount | 1.04", inside: "Q1/4 | Amount | 1.03", value: fixedAt(1)},
	{rule: "r33u", with: with(likeModel, "Q1/5 | Amount | 2.50"), breaks: "Q1/1 | Amount | 5.88", inside: "Q1/1 | Amount | 5.89", value: fixedAt(1)},
	{rule: "r33u", with: with(likeModel, "Q1/1 | Amount | 13.50", "Q1/3 | Amount | 2.00"), breaks: "Q1 | Price | 15.96", inside: "Q1 | Price | 15.97",
		value: fixedAt(1)},
	{rule: "r33u", with: with(likeModel, "Q1/1 | Amount | 13.50", "Q1/3 | Amount | 2.00"), breaks: "Q1 | Price | 14.45", inside: "Q1 | Price | 14.44",
		value: fixedAt(1)},
	{rule: "r33", with: []string{"Q1 | Price | 30.00"}, breaks: "Q1 | Yearly reduction | 3.51", inside: "Q1 | Yearly reduction | 3.5", value: fixedAt(1),
		effect: func(m refModel) float64 { return 30 - 1.05*modelQ1(m) }},
	{rule: "r35", with: []string{"Q1/1 | Amount | 8.50", "Q1/3 | Amount | 3.00"}, breaks: "Q1/4 | Amount | 1.40", inside: "Q1/4 | Amount | 1.42",
		value: fixedAt(0.8)},
	{rule: "r36", with: append([]string{"Q1 | Pieces per pack | 20", "Q1 | Packs per truck | 100"}, lanes...), breaks: "Q1 | Freight | 0.39",
		inside: "Q1 | Freight | 0.40",
		value:  fixedAt(0.78), effect: fixedAt(0.39 - 0.50)},
	{rule: "r36", with: append([]string{"Q1 | Pieces per pack | 20", "Q1 | Packs per truck | 100"}, lanes...), breaks: "Q1 | Freight | 0.61",
		inside: "Q1 | Freight | 0.60",
		value:  fixedAt(1.22), effect: fixedAt(0.61 - 0.50)},
	{rule: "r37", breaks: "Q1 | Payment days | 59", inside: "Q1 | Payment days | 60", value: fixedAt(-86400),
		effect: fixedAt(0.09 / 365 * (15.46 + 6.45*(0.86-baseQ1)))},
	{rule: "r38", breaks: "Q1 | Reduction base | price", inside: "Q1 | Reduction base | value added", value: fixedAt(1)},
	{rule: "r38", with: []string{"Q1 | Reduction base | price"}, breaks: "Q1 | Yearly reduction | 0.1", inside: "Q1 | Yearly reduction | 0", value: fixedAt(1)},
	{rule: "r39", breaks: "Q1/1 | Quantity | 14.2", inside: "Q1/1 | Quantity | 14.6", value: fixedAt(1)},    // pounds taken for kilograms: 14.12
	{rule: "r39", breaks: "Q1/1 | Quantity | 2.82", inside: "Q1/1 | Quantity | 3.00", value: fixedAt(1)},    // the other way round: 2.904
	{rule: "r39", breaks: "Q1/1 | Quantity | 6450", inside: "Q1/1 | Quantity | 1900", value: fixedAt(1)},    // grams
	{rule: "r39", breaks: "Q1/1 | Quantity | 0.0064", inside: "Q1/1 | Quantity | 0.02", value: fixedAt(1)},  // tonnes
	{rule: "r39", breaks: "Q1/1 | Quantity | 14.53", inside: "Q1/1 | Quantity | 14.542", value: fixedAt(1)}, // 2.93 and 3.02 % off 14.116
	{rule: "r39", breaks: "Q1/1 | Quantity | 2.99", inside: "Q1/1 | Quantity | 2.992", value: fixedAt(1)},   // 2.95 and 3.02 % off 2.9044
	{rule: "r39", breaks: "Q1/1 | Quantity | 1930", inside: "Q1/1 | Quantity | 1920", value: fixedAt(1)},    // 301.4 and 299.9 times
	{rule: "r39", breaks: "Q1/1 | Quantity | 0.0192", inside: "Q1/1 | Quantity | 0.0193", value: fixedAt(1)},
	{rule: "r39p", with: noLines, breaks: "Q1 | Price | 458", inside: "Q1 | Price | 456", value: fixedAt(1)}, // 30.12 and 29.99 times 15.2068
	{rule: "r39p", with: noLines, breaks: "Q1 | Price | 0.456", inside: "Q1 | Price | 0.459", value: fixedAt(1)},
	{rule: "r39p", with: noLines, breaks: "Q1 | Price | 1546", inside: "Q1 | Price | 15.46", value: fixedAt(1)},
	{rule: "r39p", with: noLines, breaks: "Q1 | Price | 0.155", inside: "Q1 | Price | 0.50", value: fixedAt(1)},
	{rule: "r40", with: []string{"Request | Revision | C"}, breaks: "Q1 | Revision | B", inside: "Q1 | Revision | C", value: fixedAt(1)},
	{rule: "r41", with: []string{"Q1 | Tools in price | 1.00", "Q1/5 | Amount | 3.00"}, breaks: "Q1 | Price after amortisation | 14.615",
		inside: "Q1 | Price after amortisation | 14.614", value: fixedAt(0.155), effect: fixedAt(0.155)},
	{rule: "r41", with: []string{"Q1 | Tools in price | 1.00", "Q1 | Price unit | 100", "Q1 | Price | 1546"}, breaks: "Q1 | Price after amortisation | 1430",
		inside: "Q1 | Price after amortisation | 1431", value: fixedAt(0.16), effect: fixedAt(-0.16)},
	{rule: "r41", quote: "Q2", breaks: "Q2 | Price after amortisation | 374.83", inside: "Q2 | Price after amortisation | 374.81", value: fixedAt(4.13),
		effect: fixedAt(4.13 * 0.0398)},
	{rule: "r42", breaks: "Q1 | Tools paid | 843990", inside: "Q1 | Tools paid | 843989", value: fixedAt(843990 / medianTools),
		effect: fixedAt((843990 - 1.5*medianTools) * pay9over6)},
}

// likeModel are lines of Q1 that are near the should-cost, each element.
var likeModel = []string{"Q1/1 | Amount | 8.80", "Q1/3 | Amount | 4.30", "Q1/4 | Amount | 0.70", "Q1/5 | Amount | 1.45"}

func with(list []string, more ...string) []string { return append(slices.Clone(list), more...) }

// What Q2, at 0.0398 EUR, and Q3 have in the mean.
const (
	midMaterial = (228.36*0.0398 + 6.51) / 2
	midProcess  = (57.20*0.0398 + 1.30) / 2
	midOverhead = (34.10*0.0398 + 1.10) / 2
	midSGA      = (48.60*0.0398 + 1.48) / 2
)

// medianTools is between what the tools of Q2 and Q3 come to: 275000 EUR and 41.30 CZK over 3 years; 60000 EUR and 1.80 EUR over 1.5 years.
// Present worth of 1 a year at 9 %: 2.53129467 over 3 years (tables: 2.5313), 1.34734 over one and a half.
const medianTools = (275000 + 41.30*0.0398*120000*2.531294665988177 + 60000 + 1.80*120000*presentOf18Months) / 2

const presentOf18Months = (1 - 0.8787397112120654) / 0.09 // by calculator: 1.09^-1.5

// modelQ1 is the should-cost at Q1's terms: FCA with packaging included, so 0.18 EUR of packaging and no freight.
func modelQ1(m refModel) float64 {
	return m.material + m.scrap + m.purchased + m.process + m.overhead + m.sga + 0.18
}
