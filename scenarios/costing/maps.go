package costing

import (
	"errors"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// maps shows which scenario is cheapest over two inputs: as asked, or over the annual volume and the price that moves the
// difference of the scenarios most.
func (s *run) maps() error {
	asked, err := s.each([]costmodel.QuestionKind{costmodel.AskMap}, func(q *costmodel.Question) error {
		list := q.Scenarios
		if len(list) == 0 {
			list = s.scenarios()
		}
		return s.mapOver(list, *q.First.Input, *q.Second.Input, q.Volume, study.AskedAxes(q, s.m, usualMapPoints))
	})
	if asked || err != nil || len(s.plans) < 2 {
		return err
	}
	price, err := s.leadingPrice()
	if err != nil {
		return err
	}
	return s.mapOver(s.scenarios(), costmodel.Input{Sheet: "Scenarios", Column: "Annual volume"}, price, 0,
		study.AskedAxes(costmodel.NewQuestion(), s.m, usualMapPoints))
}

var usualMapPoints = [2]int{12, 11}

func (s *run) mapOver(list []*costmodel.Scenario, x, y costmodel.Input, volume float64, axis study.AxisOf) error {
	m, err := study.MapOver(s.ctx, s.m, list, x, y, volume, axis)
	if err == nil {
		s.r.Maps = append(s.r.Maps, &scenarios.MapStudy{Map: m, Volume: volume})
	}
	return err
}

// leadingPrice is the input with a currency in its unit of which a percent moves the difference of the last scenario to the
// first most.
func (s *run) leadingPrice() (costmodel.Input, error) {
	if s.steps*s.steps > mostMoved {
		return costmodel.Input{}, errTooMuch
	}
	r, ds := s.usual().RespondAll(s.ctx)
	if r == nil {
		return costmodel.Input{}, ds.First("there is no input that can be moved")
	}
	for _, e := range r.Elasticities() {
		if e.Input.Unit.Dim.Currency > 0 && e.Input.BaseValue > 0 {
			return e.Input.Input, nil
		}
	}
	return costmodel.Input{}, errors.New("no price moves the difference of the scenarios; name two inputs in the sheet Studies")
}
