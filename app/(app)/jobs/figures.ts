import { isGasCode } from '@/lib/calc/gas-data'
import { convert, gasM3FromKg } from '@/lib/calc/units'
import { formatNumber } from '@/lib/format/numbers'
import type { FormatPrefs } from '@/lib/format/prefs'
import {
  formatQuantity,
  formatQuantityInterval,
  type QuantityInterval,
} from '@/lib/format/quantity'

type Units = Pick<FormatPrefs, 'units'>
type Kg90 = Readonly<{ meanKg: number; low90Kg: number; high90Kg: number }>

/** Gas as this person reads it: a volume, or for a gas without a known density its mass. */
export function gasFigure(gas: string, amount: Kg90, prefs: Units): QuantityInterval {
  const { meanKg: value, low90Kg: low, high90Kg: high } = amount
  if (!isGasCode(gas)) return formatQuantityInterval('smallMass', { value, low, high }, prefs)
  const m3 = (kg: number) => gasM3FromKg(gas, kg)
  return formatQuantityInterval(
    'gasVolume',
    { value: m3(value), low: m3(low), high: m3(high) },
    prefs,
  )
}

/** One amount of gas without an interval: a term of a sum, a nominal size. */
export function gasAmount(gas: string, kg: number, prefs: Units) {
  if (!isGasCode(gas)) return formatQuantity('smallMass', kg, prefs)
  return formatQuantity('gasVolume', gasM3FromKg(gas, kg), prefs)
}

/** Terms of a small sum carry as many figures as tell them apart; of a large one none after the point. */
export function gasTerms(gas: string, wholeKg: number, { units }: Units): (kg: number) => string {
  const isUs = units === 'us'
  const shown = (kg: number) =>
    isGasCode(gas)
      ? convert({ value: gasM3FromKg(gas, kg), from: 'm3', to: isUs ? 'ft3' : 'm3' })
      : convert({ value: kg, from: 'kg', to: isUs ? 'lb' : 'kg' })
  const whole = shown(wholeKg)
  const decimals = whole >= 100 ? 0 : whole >= 10 ? 1 : 2
  return (kg) => formatNumber(shown(kg), decimals)
}

export const withUnit = ({ value, unit }: Readonly<{ value: string; unit: string }>) =>
  `${value}\u00a0${unit}`
