// Approximate continuous vapour draw of a 100-lb propane cylinder, Btu/h, by pounds left and air temperature.
// Source: LP-gas trade table, read in two unrelated product documents that reprint it (a standby-generator
// installation manual, appendix D, and a heating-equipment page). 90 lb at 60 °F is as printed.
// Vessel formula D x L x K at 0 °F: same manual, read. (air °F + 20)/20 for other air: from memory.
export const PROPANE_VAPOUR_ID = 'propane-vapour-100lb'

export const PROPANE_VAPOUR_AIR_F = [0, 20, 40, 60, 70] as const

export const PROPANE_VAPOUR_ROWS = [
  { propaneLb: 100, btuPerH: [113_000, 167_000, 214_000, 277_000, 300_000] },
  { propaneLb: 90, btuPerH: [104_000, 152_000, 200_000, 247_000, 277_000] },
  { propaneLb: 80, btuPerH: [94_000, 137_000, 180_000, 214_000, 236_000] },
  { propaneLb: 70, btuPerH: [83_000, 122_000, 160_000, 199_000, 214_000] },
  { propaneLb: 60, btuPerH: [75_000, 109_000, 140_000, 176_000, 192_000] },
  { propaneLb: 50, btuPerH: [64_000, 94_000, 125_000, 154_000, 167_000] },
  { propaneLb: 40, btuPerH: [55_000, 79_000, 105_000, 131_000, 141_000] },
  { propaneLb: 30, btuPerH: [45_000, 66_000, 85_000, 107_000, 118_000] },
  { propaneLb: 20, btuPerH: [36_000, 51_000, 68_000, 83_000, 92_000] },
  { propaneLb: 10, btuPerH: [28_000, 38_000, 49_000, 60_000, 66_000] },
] as const

/** Heat per volume of propane vapour: the table's own conversion. */
export const PROPANE_BTU_PER_FT3 = 2500

/** K of the vessel formula by percent full. */
export const PROPANE_VESSEL_K = [
  { percentFull: 10, k: 45 },
  { percentFull: 20, k: 60 },
  { percentFull: 30, k: 70 },
  { percentFull: 40, k: 80 },
  { percentFull: 50, k: 90 },
  { percentFull: 60, k: 100 },
] as const
