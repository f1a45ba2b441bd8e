package study

// A MachineOver is a machine over the volumes of a view.
type MachineOver struct {
	Key, Name string
	Uses      []MachineUse // by volume, in the order of the points; empty where the scenario takes nothing of it
}

// Machines lists what the scenario takes of each machine at each volume, in the order in which the machines first appear.
func (v *VolumeView) Machines() []MachineOver {
	var out []MachineOver
	at := map[string]int{}
	for i := range v.Points {
		for _, u := range v.Points[i].Capacity.Machines {
			n, ok := at[u.Key]
			if !ok {
				n = len(out)
				at[u.Key] = n
				out = append(out, MachineOver{Key: u.Key, Name: u.Name, Uses: make([]MachineUse, len(v.Points))})
			}
			out[n].Uses[i] = u
		}
	}
	return out
}

// Busiest returns for each volume the key of the product-specific machine with the highest load, nothing where there is none.
func (v *VolumeView) Busiest() []string {
	out := make([]string, len(v.Points))
	for i := range v.Points {
		if u, ok := v.Points[i].Capacity.Busiest(); ok {
			out[i] = u.Key
		}
	}
	return out
}

// Has tells whether a quantity of the machine is above 0 at some volume.
func (m *MachineOver) Has(of func(MachineUse) float64) bool {
	for _, u := range m.Uses {
		if of(u) > 0 {
			return true
		}
	}
	return false
}
