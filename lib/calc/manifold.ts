import { numberRefusals, type Outcome } from './check-numbers'
import { DRAW_RELATIVE_U } from './draw-doubt'
import { GASES, type GasCode } from './gas-data'
import { input, type Measured, measure } from './measured'
import { refuse } from './refusal'
import type { Source } from './source'
import { MANIFOLD_LIMITS, type ManifoldLimitCode } from './tables/manifold-limits'
import { source } from './trace'
import { gasFt3FromKg, UNITS } from './units'
import { wholeCylinders, withdrawal } from './withdrawal'
import type { AcetyleneDrawOptionCode, DrawBasis, WithdrawalInput } from './withdrawal-types'

export type ManifoldInput = {
  gas: GasCode
  /** Gas in one full cylinder. */
  nominalKg: number
  /** What is left in each, where the draw is judged by that; full without it. */
  remainingKg?: number
  /** What stays in each when it is changed. */
  reserveKg?: number
  remainingStandardUncertaintyKg?: number
  drawM3PerS: number
  /** A tenth of the draw without it, as for `runTime`. */
  drawStandardUncertaintyM3PerS?: number
  /** Hours of burning that the manifold must last; without it only the draw counts. */
  burnS?: number
  option?: AcetyleneDrawOptionCode
  basis?: DrawBasis
  pattern?: 'intermittent' | 'continuous'
  airTemperatureK?: number
  outsideDiameterM?: number
  overallLengthM?: number
  place: 'indoors' | 'outdoors'
  /** Oxygen at no more than 250 psig service, such as from a liquid cylinder. */
  lowPressure?: boolean
}

type LimitCheck = {
  code: ManifoldLimitCode
  connected: number
  max: number
  unit: 'ft3' | 'lb'
  within: boolean
  citation: string
}

export type Manifold = Outcome<{
  cylinders: number
  /** By what they give an hour, and by what they hold; null where that sets no number. */
  byDraw: number | null
  byAmount: number | null
  /** The same before they are rounded up, with their doubt. */
  neededByDraw: Measured | null
  neededByAmount: Measured | null
  connectedKg: number
  limits: LimitCheck[]
  /** Most cylinders on one manifold under the limits that count here; null without such a limit. */
  mostPerManifold: number | null
  /** Manifolds to stand 50 ft apart or behind a barrier 5 ft high of half an hour. */
  manifolds: number
  source: Source
}>

const LIQUEFIED: readonly GasCode[] = ['propane', 'propylene', 'mps']

/**
 * Cylinders that a manifold needs for a draw and a time, and what may stand on one.
 *
 * @param input gas, cylinder, draw (m³/s at 70 °F and 1 atm), hours of burning, place
 * @returns cylinders by draw and by contents, the larger of the two, each limit, and manifolds to split them into
 * @remarks Natural gas, propylene and MPS-type gas have no published draw: only their amount counts.
 * @source `withdrawal`; `tables/manifold-limits`. For the liquefied gases the pounds of LP-gas, the stricter, count.
 */
export function manifold(known: ManifoldInput): Manifold {
  const refusals = numberRefusals({
    nominalKg: [known.nominalKg, { above: 0, unit: 'kg' }],
    remainingKg: [known.remainingKg, { above: 0, max: 1.2 * known.nominalKg, unit: 'kg' }],
    reserveKg: [known.reserveKg, { min: 0, max: 0.9 * known.nominalKg, unit: 'kg' }],
    remainingStandardUncertaintyKg: [
      known.remainingStandardUncertaintyKg,
      { min: 0, max: known.nominalKg, unit: 'kg' },
    ],
    drawM3PerS: [known.drawM3PerS, { min: 0, max: 1, unit: 'm3/s' }],
    drawStandardUncertaintyM3PerS: [
      known.drawStandardUncertaintyM3PerS,
      { min: 0, max: known.drawM3PerS, unit: 'm3/s' },
    ],
    burnS: [known.burnS, { min: 0, max: 1e7, unit: 's' }],
  })
  if (refusals.length > 0) return refuse(refusals)
  const draw = drawInput(known)
  const allowed = draw ? withdrawal(draw) : null
  if (allowed && !allowed.ok) return allowed
  const byDraw = allowed?.cylindersOnManifold ?? null
  const neededByAmount = amountOf(known)
  const byAmount = neededByAmount === null ? null : wholeCylinders(neededByAmount.mean)
  const cylinders = Math.max(1, byDraw ?? 1, byAmount ?? 1)
  const limits = limitsOf(known, cylinders)
  const mostPerManifold = mostOf(known)
  return {
    ok: true,
    cylinders,
    byDraw,
    byAmount,
    neededByDraw: allowed?.needed ?? null,
    neededByAmount,
    connectedKg: cylinders * known.nominalKg,
    limits,
    mostPerManifold,
    manifolds: mostPerManifold === null ? 1 : Math.ceil(cylinders / Math.max(1, mostPerManifold)),
    source: source(
      'manifold',
      {
        nominalKg: [known.nominalKg, 'kg'],
        drawM3PerS: [known.drawM3PerS, 'm³/s'],
        ...(known.burnS === undefined ? {} : { burnS: [known.burnS, 's'] as const }),
      },
      { provenance: allowed?.source.provenance ?? 'derived' },
    ),
  }
}

function drawInput(known: ManifoldInput): WithdrawalInput | null {
  const { gas, nominalKg: capacityKg, drawM3PerS, remainingKg, airTemperatureK } = known
  const shared = {
    capacityKg,
    drawM3PerS,
    ...given(known, ['remainingStandardUncertaintyKg', 'drawStandardUncertaintyM3PerS']),
  }
  if (gas === 'acetylene')
    return { gas, ...shared, ...given(known, ['remainingKg', 'option', 'basis', 'pattern']) }
  if (gas !== 'propane' || airTemperatureK === undefined) return null
  return {
    gas,
    ...shared,
    airTemperatureK,
    remainingKg: remainingKg ?? capacityKg,
    ...given(known, ['outsideDiameterM', 'overallLengthM']),
  }
}

/** The fields that were given, and no others. */
function given<K extends keyof ManifoldInput>(
  known: ManifoldInput,
  names: readonly K[],
): { [N in K]?: Exclude<ManifoldInput[N], undefined> } {
  const entries = names.map((name) => [name, known[name]] as const)
  return Object.fromEntries(entries.filter(([, value]) => value !== undefined)) as {
    [N in K]?: Exclude<ManifoldInput[N], undefined>
  }
}

function amountOf(known: ManifoldInput): Measured | null {
  const { burnS, drawM3PerS, reserveKg = 0, remainingKg = known.nominalKg } = known
  if (burnS === undefined || remainingKg <= reserveKg) return null
  const density = GASES[known.gas].densityKgPerM3
  const drawU = known.drawStandardUncertaintyM3PerS
  return measure({
    formulaCode: 'cylindersForAmount',
    unit: '',
    min: 0,
    inputs: {
      drawM3PerS: input(drawM3PerS, 'm³/s', {
        u: drawU ?? DRAW_RELATIVE_U * drawM3PerS,
        provenance: drawU === undefined ? 'common practice' : 'entered',
        min: 0,
      }),
      burnS: input(burnS, 's'),
      remainingKg: input(remainingKg, 'kg', {
        u: known.remainingStandardUncertaintyKg ?? 0,
        // Half of what is above the reserve must stay: nearer to it the count runs away.
        min: (remainingKg + reserveKg) / 2,
      }),
      reserveKg: input(reserveKg, 'kg'),
    },
    of: (at) => (at.drawM3PerS * at.burnS * density) / (at.remainingKg - at.reserveKg),
  })
}

function limitCodes({ gas, lowPressure }: ManifoldInput): ManifoldLimitCode[] {
  if (gas === 'oxygen')
    return [
      lowPressure === true ? 'lowPressureOxygenManifold12000' : 'oxygenManifold6000',
      'bulkOxygen13000',
    ]
  return [LIQUEFIED.includes(gas) ? 'lpgManifold300' : 'fuelManifold3000']
}

function amountIn(unit: 'ft3' | 'lb', gas: GasCode, kg: number): number {
  return unit === 'lb' ? kg / UNITS.lb.toBase : gasFt3FromKg(gas, kg)
}

function countsAt(code: ManifoldLimitCode, place: ManifoldInput['place']): boolean {
  return place === 'indoors' || !MANIFOLD_LIMITS[code].indoorsOnly
}

function limitsOf(known: ManifoldInput, cylinders: number): LimitCheck[] {
  return limitCodes(known)
    .filter((code) => countsAt(code, known.place))
    .map((code) => {
      const { max, unit, citation } = MANIFOLD_LIMITS[code]
      const connected = amountIn(unit, known.gas, cylinders * known.nominalKg)
      return { code, connected, max, unit, within: connected <= max * (1 + 1e-9), citation }
    })
}

function mostOf(known: ManifoldInput): number | null {
  const most = limitCodes(known)
    .filter((code) => code !== 'bulkOxygen13000' && countsAt(code, known.place))
    .map((code) => {
      const { max, unit } = MANIFOLD_LIMITS[code]
      return Math.floor(max / amountIn(unit, known.gas, known.nominalKg) + 1e-9)
    })
  return most.length === 0 ? null : Math.min(...most)
}
