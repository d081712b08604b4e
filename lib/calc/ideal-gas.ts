import { requireNumber } from './errors'

const GAS_CONSTANT = 8.314_462_618

/** Pressure and temperature of a gas: kPa absolute and K, both above zero. */
export type GasState = { pressureAbsKpa: number; temperatureK: number }

/**
 * Pressure of an ideal gas, for comparison with the real one and for textbook cases.
 *
 * @param input amountMol >= 0, temperatureK > 0, volumeL > 0
 * @returns scalar, kPa absolute
 * @throws {CalcError} OUT_OF_RANGE
 * @source p V = n R T; R: CODATA 2018
 */
export function idealPressureAbsKpa(input: {
  amountMol: number
  temperatureK: number
  volumeL: number
}): number {
  requireNumber('amountMol', input.amountMol, { min: 0 })
  requireNumber('temperatureK', input.temperatureK, { above: 0 })
  requireNumber('volumeL', input.volumeL, { above: 0 })
  return (input.amountMol * GAS_CONSTANT * input.temperatureK) / input.volumeL
}

/**
 * Volume of an ideal gas at another pressure and temperature.
 *
 * @param input volume in any unit, the state it is stated at and the state asked for
 * @returns scalar in the unit of the volume
 * @throws {CalcError} OUT_OF_RANGE
 * @source combined gas law
 */
export function idealVolume(input: { volume: number; from: GasState; to: GasState }): number {
  const { volume, from, to } = input
  requireNumber('volume', volume, { min: 0 })
  for (const [name, state] of Object.entries({ from, to })) {
    requireNumber(`${name}.pressureAbsKpa`, state.pressureAbsKpa, { above: 0 })
    requireNumber(`${name}.temperatureK`, state.temperatureK, { above: 0 })
  }
  return volume * (from.pressureAbsKpa / to.pressureAbsKpa) * (to.temperatureK / from.temperatureK)
}
