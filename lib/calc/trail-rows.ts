import { type CatalogueSize, supplySizeOf } from './catalogue-size'
import { contentsFromReading } from './contents'
import type { CylinderReading } from './contents-types'
import type { EstimatedCut } from './done-share'
import { meantValues } from './hypotheses-sizes'
import { groupBy } from './hypotheses-stretches'
import type { MeantAs, Trail, TrailReading, TrailWork } from './hypotheses-types'
import { once } from './reconcile-solver'
import { convert, STANDARD_TEMPERATURE_K } from './units'

/** One event of a cylinder, as kept. */
export type TrailEventRow = Readonly<{
  id: string
  cylinderId: string
  kind: string
  siteId: string
  outfitId: string | null
  atMs: number
  gaugeKpa: number | null
  weightKg: number | null
  temperatureK: number | null
  contentsKg: number | null
  contentsUKg: number | null
  markedEmpty: boolean
}>

export type TrailCylinderRow = Readonly<{ id: string; size: CatalogueSize; tareKg: number | null }>

export type TrailLogRow = Readonly<{
  outfitId: string | null
  jobId: string | null
  crewId: string | null
  siteId: string
  cutId: string | null
  pieces: number
  fromMs: number
  toMs: number
}>

/** What a person may have agreed about a reading: its contents, or that it tells nothing. */
export type ReadingCorrection = Readonly<{ contentsKg: number | null }>

const ON_OUTFIT = new Set(['put_on', 'found_on', 'read', 'taken_off'])
/** A filler's word is believed to this share of a full cylinder where the record says nothing. Own choice. */
const FILLED_SHARE = 0.02
/** Nobody reads a cylinder finer than this share of a full one. Own choice. */
const LEAST_SHARE = 0.002
/** A typed gauge this near to the other side's was read off the other one. Own choice. */
const SAME_GAUGE_SHARE = 0.02
const SAME_MOMENT_MS = 10 * 60_000

/**
 * One gas's trail from rows of the record.
 *
 * @param rows events oldest first within each cylinder; cylinders of the gas; logs; what an estimate put on
 *   each cut; corrections by the event that they correct
 * @returns readings with what each may have been meant to be, and work with what it should have taken
 */
export function trailFromRows(
  rows: Readonly<{
    events: readonly TrailEventRow[]
    cylinders: readonly TrailCylinderRow[]
    logs: readonly TrailLogRow[]
    cuts: readonly EstimatedCut[]
    side: 'oxygenKg' | 'fuelKg'
    corrections?: ReadonlyMap<string, ReadingCorrection>
  }>,
): Trail {
  const cylinders = new Map(rows.cylinders.map((one) => [one.id, one]))
  const others = otherGauges(rows.events)
  const readings = rows.events.flatMap((event) => {
    const cylinder = cylinders.get(event.cylinderId)
    return cylinder ? toReading(event, cylinder, rows.corrections?.get(event.id), others) : []
  })
  const perPiece = new Map(
    rows.cuts.map((cut) => [cut.cutId, cut.count > 0 ? cut[rows.side] / cut.count : 0]),
  )
  const works = rows.logs.flatMap((log): TrailWork[] => {
    if (log.outfitId === null) return []
    const { outfitId, jobId, crewId, siteId, fromMs, toMs } = log
    const eachKg = perPiece.get(log.cutId ?? '')
    const expectedKg = eachKg === undefined ? null : log.pieces * eachKg
    return [{ outfitId, jobId, groupId: `${siteId} ${crewId ?? ''}`, fromMs, toMs, expectedKg }]
  })
  return { readings, works }
}

/** Whether another cylinder's gauge on the same outfit showed the same at the same time. */
type IsOther = (event: TrailEventRow) => boolean

function otherGauges(events: readonly TrailEventRow[]): IsOther {
  const onOutfit = once(
    () =>
      new Map(
        groupBy(
          events.filter((event) => event.outfitId !== null && event.gaugeKpa !== null),
          (event) => event.outfitId ?? '',
        ),
      ),
  )
  return ({ outfitId, cylinderId, gaugeKpa, atMs }) =>
    gaugeKpa !== null &&
    (onOutfit().get(outfitId ?? '') ?? []).some(
      (other) =>
        other.cylinderId !== cylinderId &&
        Math.abs(other.atMs - atMs) < SAME_MOMENT_MS &&
        Math.abs((other.gaugeKpa ?? 0) - gaugeKpa) < SAME_GAUGE_SHARE * gaugeKpa,
    )
}

/** Contents and their standard uncertainty: read, marked empty, or full at the filler's word. */
function contentsOf(
  event: TrailEventRow,
  { nominalKg, heelKg }: CatalogueSize,
  correction: ReadingCorrection | undefined,
): { gasKg: number; uKg: number } | null {
  if (correction?.contentsKg === null) return null
  const gasKg = correction?.contentsKg ?? event.contentsKg
  if (gasKg !== null) return { gasKg, uKg: event.contentsUKg ?? FILLED_SHARE * nominalKg }
  if (event.markedEmpty) return { gasKg: heelKg, uKg: Math.max(heelKg, FILLED_SHARE * nominalKg) }
  return isFilled(event) ? { gasKg: nominalKg, uKg: FILLED_SHARE * nominalKg } : null
}

const COMES_IN: ReadonlySet<string> = new Set(['received', 'bought', 'rented_in'])
const isFilled = ({ kind, markedEmpty }: TrailEventRow) =>
  (COMES_IN.has(kind) && !markedEmpty) || kind === 'filled'

function toReading(
  event: TrailEventRow,
  cylinder: TrailCylinderRow,
  correction: ReadingCorrection | undefined,
  isOther: IsOther,
): TrailReading[] {
  const { size } = cylinder
  const contents = contentsOf(event, size, correction)
  if (!contents) return []
  return [
    {
      id: event.id,
      cylinderId: event.cylinderId,
      sizeId: size.id,
      nominalKg: size.nominalKg,
      heelKg: size.heelKg,
      siteId: event.siteId,
      atMs: event.atMs,
      kind: isFilled(event) ? 'filled' : kindOf(event.kind),
      outfitId: ON_OUTFIT.has(event.kind) ? event.outfitId : null,
      gasKg: contents.gasKg,
      standardUncertaintyKg: Math.max(contents.uKg, LEAST_SHARE * size.nominalKg),
      meantAs: () => (correction ? [] : meantAs(event, cylinder, isOther)),
    },
  ]
}

const kindOf = (kind: string): TrailReading['kind'] => {
  if (kind === 'put_on' || kind === 'found_on') return 'put_on'
  return kind === 'taken_off' ? 'taken_off' : 'read'
}

/** Every value that the typed one may have been meant to be, as contents. */
function meantAs(
  event: TrailEventRow,
  { size, tareKg }: TrailCylinderRow,
  isOther: IsOther,
): MeantAs[] {
  const calcSize = supplySizeOf(size)
  if (!calcSize) return []
  const { gaugeKpa, weightKg, temperatureK } = event
  const asContents = (reading: CylinderReading) => {
    const contents = contentsFromReading(reading, calcSize)
    return contents.ok ? contents.gasKg : null
  }
  const byGauge = (psi: number) =>
    asContents({
      kind: 'gauge',
      gaugePressureKpa: convert({ value: psi, from: 'psi', to: 'kPa' }),
      temperatureK: temperatureK ?? STANDARD_TEMPERATURE_K,
    })
  const byWeight = (pounds: number) =>
    tareKg === null
      ? null
      : asContents({
          kind: 'weight',
          grossKg: convert({ value: pounds, from: 'lb', to: 'kg' }),
          tareKg,
        })
  const typed = (value: number, from: 'kPa' | 'kg', unit: 'psi' | 'lb') =>
    meantValues({ value: convert({ value, from, to: unit }), unit })
  const gauged = gaugeKpa === null ? [] : typed(gaugeKpa, 'kPa', 'psi')
  const weighed = weightKg === null ? [] : typed(weightKg, 'kg', 'lb')
  const meant = [
    ...gauged.map(({ how, value }) => ({ how, gasKg: byGauge(value) })),
    ...weighed.map(({ how, value }) => ({ how, gasKg: byWeight(value) })),
  ].filter((one) => one.gasKg !== null)
  return isOther(event) ? [...meant, { how: 'other_gauge', gasKg: null }] : meant
}
