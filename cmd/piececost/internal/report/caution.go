package report

import "piececost/scenarios/costing/wire"

// Caution stands under every result that rests on forces, pressures and cycle times.
const Caution = wire.Caution
