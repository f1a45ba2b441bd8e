package report

// caution stands under every result that rests on forces, pressures and cycle times.
const Caution = `Forces, pressures and cycle times are for estimating cost only; they defer to the machine maker,
local safety codes and licensed engineers. Results rest on the inputs' sources.`
