// Diameters of number (wire gauge) twist drills, inches, from No. 1 to No. 80.
// Source: ASME B94.11M, twist drills, as every drill index repeats it. FROM MEMORY: not checked against the print.
const NUMBER_DRILLS_IN: readonly number[] = [
  0.228, 0.221, 0.213, 0.209, 0.2055, 0.204, 0.201, 0.199, 0.196, 0.1935, 0.191, 0.189, 0.185,
  0.182, 0.18, 0.177, 0.173, 0.1695, 0.166, 0.161, 0.159, 0.157, 0.154, 0.152, 0.1495, 0.147, 0.144,
  0.1405, 0.136, 0.1285, 0.12, 0.116, 0.113, 0.111, 0.11, 0.1065, 0.104, 0.1015, 0.0995, 0.098,
  0.096, 0.0935, 0.089, 0.086, 0.082, 0.081, 0.0785, 0.076, 0.073, 0.07, 0.067, 0.0635, 0.0595,
  0.055, 0.052, 0.0465, 0.043, 0.042, 0.041, 0.04, 0.039, 0.038, 0.037, 0.036, 0.035, 0.033, 0.032,
  0.031, 0.0292, 0.028, 0.026, 0.025, 0.024, 0.0225, 0.021, 0.02, 0.018, 0.016, 0.0145, 0.0135,
]

/** Half of what the table's last figure can tell. */
const SAME_IN = 0.000_05

/**
 * Hole that a number drill makes.
 *
 * @param number 1 to 80
 * @returns diameter, in; null for a number that is no drill
 * @source `NUMBER_DRILLS_IN`, from memory
 */
export function numberDrillIn(number: number): number | null {
  return NUMBER_DRILLS_IN[number - 1] ?? null
}

/**
 * Number of the drill that makes this hole.
 *
 * @param diameterIn of the hole, in
 * @returns 1 to 80; null where no number drill makes it to the table's last figure
 * @source `NUMBER_DRILLS_IN`, from memory
 */
export function numberDrillOf(diameterIn: number): number | null {
  const at = NUMBER_DRILLS_IN.findIndex((one) => Math.abs(one - diameterIn) <= SAME_IN)
  return at < 0 ? null : at + 1
}
