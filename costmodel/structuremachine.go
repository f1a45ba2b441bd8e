package costmodel

import (
	"fmt"

	"piececost/costmodel/table"
)

// place finds the machine and plant of a step.
func (st *structure) place(s *stepRow) {
	process, _ := st.text(s.rec, "process")
	s.variant = st.model.Schema.byName["operation"].variant(process)
	plant, _ := st.text(s.rec, "plant")
	if plant == "" {
		plant = st.scenario.plant
	}
	s.machine = -1
	st.placeTool(s)
	machine, plants := st.machineOf(s.rec), st.model.byKey["plant"][plant]
	if len(plants) == 0 {
		return
	}
	if s.variant != nil && s.variant.Template.noMachine { // whatever machine another process would have
		s.plant = plants[0]
		return
	}
	if machine == nil {
		st.machineLacks(s)
		return
	}
	s.plant = plants[0]
	if st.model.sizeOf(machine) != nil {
		machine = st.model.sizedFor(machine, s.rec)
		if n := table.Characters(machine.Key + "|" + plant); n > mostInKey {
			st.add("key", s.rec.Place, fmt.Sprintf("%.20q..., by which the machine of operation %.20q... is found in its plant, has %d characters, "+
				"more than the %d by which a spreadsheet finds a row", machine.Key, s.rec.Key, n, mostInKey), "write shorter keys of the machine or the part")
		}
	}
	key := machineKey{machine, plants[0]}
	i, ok := st.machine[key]
	if !ok {
		i = len(st.machines)
		st.machine[key] = i
		st.machines = append(st.machines, key)
	}
	s.machine = i
}

// machineOf is the machine of an operation: the one that its cell or a change names, else the one that was chosen for it; nil for none.
func (st *structure) machineOf(operation *Record) *Record {
	if r := st.scenario.standing[operation]; r != nil {
		return r
	}
	if name, _ := st.text(operation, "machine"); name != "" {
		if recs := st.model.byKey["machine"][name]; len(recs) > 0 {
			return recs[0]
		}
		return nil
	}
	if c := st.scenario.chosen[operation]; c != nil {
		return c.Machine
	}
	return nil
}

// machineLacks reports an operation without a machine where only the scenario's process needs one; the others are reported with
// the sheet.
func (st *structure) machineLacks(s *stepRow) {
	name, at := st.text(s.rec, "machine")
	written := st.model.Schema.byName["operation"].variant(s.rec.Text("process"))
	if name == "" && written != nil && written.Template.noMachine && s.variant != nil {
		st.add("machine", at, fmt.Sprintf("operation %s has no machine, and %s needs one", s.rec.Key, s.variant.Template.Name),
			"write a key of the sheet Machines in its cell, or let the scenario change it too")
	}
}
