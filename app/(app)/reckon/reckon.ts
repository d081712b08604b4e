import { contentsFromReading } from '@/lib/calc/contents'
import type { CylinderGasCode, GasCode } from '@/lib/calc/gas-data'
import { hoseSetting } from '@/lib/calc/hose'
import { leakTest } from '@/lib/calc/leak-test'
import { manifold } from '@/lib/calc/manifold'
import type { Measured } from '@/lib/calc/measured'
import type { Refusal } from '@/lib/calc/refusal'
import { runTime } from '@/lib/calc/run-time'
import type { Source, Term } from '@/lib/calc/source'
import type { HoseBore } from '@/lib/calc/tables/hoses'
import { convert, gasKgFromM3 } from '@/lib/calc/units'
import { wholeCylinders } from '@/lib/calc/withdrawal'
import type { QuantityKind } from '@/lib/format/quantity'
import { STORE_RULES } from '@/lib/rules/store-catalogue'
import { adrPoints, materialsOfTrade, type TradeLoad } from '@/lib/rules/transport'
import type { ReckonRead, ReckonTool } from '@/lib/schemas/reckon'

/** One number of an answer, and all that it opens to. */
export type Figure = Readonly<{
  code: string
  kind: QuantityKind | 'gas' | 'duration' | 'count'
  gas: string
  value: number
  low: number | null
  high: number | null
  chain: readonly Term[]
  source: Source
}>

/** A fact beside the numbers: a verdict, a limit kept or broken with the rule it rests on. */
export type Fact = Readonly<{
  code: string
  params?: Readonly<Record<string, number>>
  isTrouble: boolean
  citation?: string
}>

export type Answer =
  | Readonly<{ ok: true; figures: readonly Figure[]; facts: readonly Fact[] }>
  | Readonly<{ ok: false; refusals: readonly Refusal[] }>

type Shown = Readonly<Pick<Measured, 'mean' | 'low90' | 'high90' | 'chain' | 'source'>>

const figure = (
  code: string,
  kind: Figure['kind'],
  { mean, low90, high90, chain, source }: Shown,
  gas = 'oxygen',
): Figure => ({ code, kind, gas, value: mean, low: low90, high: high90, chain, source })

const n = (read: ReckonRead, name: string) => Number(read[name])

function sizeOf(read: ReckonRead) {
  const gas = read.gas as CylinderGasCode
  return {
    gas,
    nominalKg: gasKgFromM3(gas, n(read, 'nominal')),
    ratedGaugePressureKpa: n(read, 'full'),
  }
}

const readingOf = (read: ReckonRead) =>
  ({
    kind: 'gauge',
    gaugePressureKpa: n(read, 'gauge'),
    temperatureK: n(read, 'temperature'),
  }) as const

function contents(read: ReckonRead): Answer {
  const found = contentsFromReading(readingOf(read), sizeOf(read))
  if (!found.ok) return found
  const { gasKg: mean, low90Kg: low90, high90Kg: high90, chain, source } = found
  const measured = { mean, low90, high90, chain, source }
  return { ok: true, figures: [figure('contents', 'gas', measured, found.gas)], facts: [] }
}

function lasting(read: ReckonRead): Answer {
  const found = runTime({
    size: sizeOf(read),
    reading: readingOf(read),
    cylinders: n(read, 'cylinders'),
    changeAt: { gaugePressureKpa: n(read, 'changeAt') },
    drawM3PerS: n(read, 'draw'),
  })
  if (!found.ok) return found
  const { burnS, usableKg } = found
  const time: Figure = {
    code: 'lasts',
    kind: 'duration',
    gas: found.contents.gas,
    value: burnS.middle,
    low: burnS.low90,
    high: burnS.high90,
    chain: usableKg.chain,
    source: { ...usableKg.source, formulaCode: 'timeToChange' },
  }
  return {
    ok: true,
    figures: [time, figure('usable', 'gas', usableKg, found.contents.gas)],
    facts: [],
  }
}

function feeding(read: ReckonRead): Answer {
  const gas = read.gas as GasCode
  const found = manifold({
    gas,
    nominalKg: n(read, 'contents'),
    drawM3PerS: n(read, 'draw'),
    burnS: n(read, 'burn'),
    airTemperatureK: n(read, 'air'),
    place: read.place === 'outdoors' ? 'outdoors' : 'indoors',
  })
  if (!found.ok) return found
  const { byDraw, byAmount, neededByDraw, neededByAmount, source } = found
  const whole = (code: string, value: number, needed: Measured | null): Figure => ({
    code,
    kind: 'count',
    gas,
    value,
    low: needed === null ? null : wholeCylinders(needed.low90),
    high: needed === null ? null : wholeCylinders(needed.high90),
    chain: needed?.chain ?? [],
    source: needed?.source ?? source,
  })
  const larger = (byAmount ?? 0) > (byDraw ?? 0) ? neededByAmount : neededByDraw
  return {
    ok: true,
    figures: [
      whole('cylinders', found.cylinders, larger),
      ...(byDraw === null ? [] : [whole('byDraw', byDraw, neededByDraw)]),
      ...(byAmount === null ? [] : [whole('byAmount', byAmount, neededByAmount)]),
      whole('manifolds', found.manifolds, null),
    ],
    facts: found.limits.map(({ citation, connected, max, unit, within }) => ({
      code: unit === 'lb' ? 'limitLb' : 'limitFt3',
      params: { connected: Math.round(connected), max },
      isTrouble: !within,
      citation,
    })),
  }
}

function setting(read: ReckonRead): Answer {
  const found = hoseSetting({
    gas: read.gas as GasCode,
    flowM3PerS: n(read, 'flow'),
    bore: read.bore as HoseBore,
    lengthM: n(read, 'length'),
    tipGaugePressureKpa: n(read, 'tip'),
  })
  if (!found.ok) return found
  const { regulatorGaugePressureKpa: regulator, hoseLossKpa: loss, longestM } = found
  const longest: Figure[] =
    longestM === null
      ? []
      : [
          {
            code: 'longest',
            kind: 'length',
            gas: '',
            value: longestM,
            low: null,
            high: null,
            chain: loss.chain,
            source: loss.source,
          },
        ]
  return {
    ok: true,
    figures: [
      figure('regulator', 'gaugePressure', regulator),
      figure('loss', 'gaugePressure', loss),
      ...longest,
    ],
    facts: [],
  }
}

function leak(read: ReckonRead): Answer {
  const gas = read.gas as GasCode
  const hose = { bore: read.bore as HoseBore, lengthM: n(read, 'length') }
  const { startTemperature, endTemperature } = read
  const found = leakTest({
    gas,
    hoses: [hose],
    startGaugePressureKpa: n(read, 'start'),
    endGaugePressureKpa: n(read, 'end'),
    elapsedS: n(read, 'elapsed'),
    resolutionKpa: n(read, 'resolution'),
    ...(typeof startTemperature === 'number' ? { startTemperatureK: startTemperature } : {}),
    ...(typeof endTemperature === 'number' ? { endTemperatureK: endTemperature } : {}),
  })
  if (!found.ok) return found
  return {
    ok: true,
    figures: [
      figure('fall', 'gaugePressure', found.fallKpa),
      figure('leak', 'gasFlow', found.leakM3PerS),
      figure('month', 'gas', found.perMonthKg, gas),
    ],
    facts: [{ code: found.verdict, isTrouble: found.verdict === 'outOfService' }],
  }
}

const pounds = (kg: number) => convert({ value: kg, from: 'kg', to: 'lb' })

function load(read: ReckonRead): Answer {
  const weights = (read.weights as readonly number[]).map(pounds)
  const found = materialsOfTrade({
    carrier: read.carrier as TradeLoad['carrier'],
    purpose: read.purpose as TradeLoad['purpose'],
    cylindersGrossLb: weights,
    otherGrossLb: pounds(n(read, 'other')),
  })
  const total: Figure = {
    code: 'aggregate',
    kind: 'mass',
    gas: '',
    value: convert({ value: found.aggregateLb, from: 'lb', to: 'kg' }),
    low: null,
    high: null,
    chain: [],
    source: { formulaCode: 'loadSum', inputs: [], tableId: null, provenance: 'entered' },
  }
  return {
    ok: true,
    figures: [total],
    facts: [
      {
        code: found.isMaterialOfTrade ? 'isTrade' : 'notTrade',
        isTrouble: !found.isMaterialOfTrade,
      },
      ...found.findings.map(({ code, verdict, ruleId }) => ({
        code,
        isTrouble: verdict !== 'ok',
        citation: STORE_RULES[ruleId].citation,
      })),
    ],
  }
}

/** Kilograms of gas that burns, litres of water of what does not: ADR 1.1.3.6, whose figures are from memory. */
function smallLoad(read: ReckonRead): Answer {
  const { points, isSmallLoad } = adrPoints([
    { category: 2, quantity: n(read, 'flammable') },
    { category: 3, quantity: n(read, 'inert') },
  ])
  const sum: Figure = {
    ...{ code: 'points', kind: 'count', gas: '', value: points, low: null, high: null, chain: [] },
    source: { formulaCode: 'adrPoints', inputs: [], tableId: null, provenance: 'from memory' },
  }
  const { citation } = STORE_RULES['adr-small-load']
  const code = isSmallLoad ? 'isSmallLoad' : 'notSmallLoad'
  return { ok: true, figures: [sum], facts: [{ code, isTrouble: !isSmallLoad, citation }] }
}

const RECKON: Readonly<Record<ReckonTool, (read: ReckonRead) => Answer>> = {
  contents,
  'run-time': lasting,
  manifold: feeding,
  hose: setting,
  leak,
  load,
  'small-load': smallLoad,
}

/** The answer of a calculator, on either side: the library alone does the sums. */
export const reckon = (tool: ReckonTool, read: ReckonRead): Answer => RECKON[tool](read)
