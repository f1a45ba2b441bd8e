package report

type solveJSON struct {
	Format    string         `json:"format"`
	Version   int            `json:"version"`
	File      string         `json:"file"`
	Currency  string         `json:"currency"`
	Wanted    string         `json:"wanted"`
	Scenario  string         `json:"scenario"`
	Against   string         `json:"against,omitempty"`
	Volume    *float64       `json:"annual_volume,omitempty"`
	Target    float64        `json:"target"` // of the cost, or of the difference
	Today     float64        `json:"base_value"`
	Inputs    []solutionJSON `json:"inputs"`
	NotTried  []string       `json:"not_tried,omitempty"`
	Caution   string         `json:"caution"`
	PaidValue bool           `json:"saved_kilograms_paid"`
}

type solutionJSON struct {
	Input        string     `json:"input"`
	Unit         string     `json:"unit,omitempty"`
	Today        *float64   `json:"base_value,omitempty"`
	From         float64    `json:"from"`
	To           float64    `json:"to"`
	Range        string     `json:"range"`
	MovesNothing bool       `json:"moves_nothing,omitempty"`
	Values       []rootJSON `json:"values"`
	Nearest      *float64   `json:"nearest,omitempty"`
	Miss         *float64   `json:"miss,omitempty"`
}

type rootJSON struct {
	Found    string   `json:"found"` // value, stretch or jump
	Value    float64  `json:"value"`
	Until    *float64 `json:"until,omitempty"`
	Below    *float64 `json:"below,omitempty"`
	Above    *float64 `json:"above,omitempty"`
	Distance *float64 `json:"share_from_base_value,omitempty"`
}

// JSON is what was found for every input.
func (s *Solve) JSON() solveJSON {
	q := s.Measure
	out := solveJSON{Format: "piececost solve", Version: 1, File: s.model().Case.File, Currency: s.currency(), Wanted: s.wanted(), Scenario: q.Scenario.Name,
		Target: s.Target, Today: s.Today, Inputs: []solutionJSON{}, NotTried: s.Dropped, PaidValue: q.PayMass, Caution: Caution}
	if q.Against != nil {
		out.Against = q.Against.Name
	}
	if q.Volume > 0 {
		out.Volume = &q.Volume
	}
	for i := range s.Solutions {
		x := &s.Solutions[i]
		j := solutionJSON{Input: x.Input.Input.String(), Unit: unitOf(s.model(), &x.Input), Today: finite(x.Input.Shown(x.Input.Today)),
			From: x.Input.Shown(x.From), To: x.Input.Shown(x.To),
			Range: string(x.Range), MovesNothing: x.Idle, Values: []rootJSON{}}
		if len(x.Roots) == 0 && !x.Idle {
			j.Nearest, j.Miss = finite(x.Input.Shown(x.Nearest)), finite(x.Miss)
		}
		for _, root := range x.Roots {
			r := rootJSON{Found: kindOf(root), Value: x.Input.Shown(root.Value), Distance: finite(root.Nearest(x.Input.Today)/x.Input.Today - 1)}
			switch {
			case root.Jump:
				r.Below, r.Above = finite(root.Below), finite(root.Above)
			case root.Until > root.Value:
				r.Until = finite(x.Input.Shown(root.Until))
			}
			j.Values = append(j.Values, r)
		}
		out.Inputs = append(out.Inputs, j)
	}
	return out
}
