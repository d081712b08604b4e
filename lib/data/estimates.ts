import 'server-only'
import { estimateCutList } from '@/lib/calc/estimate'
import type { EstimateInput, EstimateResult } from '@/lib/calc/estimate-types'
import { JUDGEMENTS } from '@/lib/calc/judgements'
import { pieceWeightKg } from '@/lib/calc/piece-weight'
import type { Refusal } from '@/lib/calc/refusal'
import type { Interval90 } from '@/lib/calc/source'
import { type TimeToChangeInput, timeToChange, timeToChangeAt } from '@/lib/calc/time-to-change'
import { AppError } from '@/lib/errors'
import { toCutInput } from '@/lib/schemas/cut-input'
import { type ListSettings, listSettingsSchema } from '@/lib/schemas/list-settings'
import { MOST_CUTS } from '@/lib/schemas/sheet-save'
import type { CrewUsed } from './crew-factors'
import { type CutRow, toCutRow } from './cut-rows'
import type { Norms } from './estimate-norms'
import { type OnHand, type SiteSupply, type SupplyChoice, supplyChoice } from './estimate-supply'
import type { Tx } from './tx'

export type CutListRow = Readonly<{
  id: string
  fuel: string
  process: 'hand' | 'machine'
  settings: ListSettings
  cuts: readonly CutRow[]
}>

/** What a cut list still takes. Cuts that can't be flame-cut stand beside it with their reasons. */
export type CutListEstimate = Readonly<{
  inputs: EstimateInput
  result: EstimateResult | null
  /** By cut id. */
  refusedCuts: Readonly<Record<string, readonly Refusal[]>>
  /** Of the list as a whole, when there is no result. */
  refusals: readonly Refusal[]
  onHand: Readonly<{ oxygen: OnHand; fuel: OnHand }>
  sizes: Readonly<{ oxygen: SupplyChoice | null; fuel: SupplyChoice | null }>
  /** How the crew runs against the table; null where nothing is learned yet. */
  crew: CrewUsed | null
}>

type Stock = Norms & Readonly<{ supply: SiteSupply; sizes: CutListEstimate['sizes'] }>

/** A crew's factor as lib/calc takes it. */
export const crewInput = (crew: CrewUsed | null): Pick<EstimateInput, 'crewFactor'> =>
  crew ? { crewFactor: { mean: crew.mean, standardUncertainty: crew.standardUncertainty } } : {}

function inputFor(
  list: CutListRow,
  cuts: readonly CutRow[],
  { supply, sizes, chart, crew }: Stock,
): EstimateInput {
  return {
    fuel: list.fuel,
    ...list.settings,
    ...(chart ? { tipChart: chart } : {}),
    ...crewInput(crew),
    cuts: cuts.map((cut) => toCutInput(cut, list.process)),
    ...(sizes.oxygen ? { oxygenSize: sizes.oxygen.size } : {}),
    ...(sizes.fuel ? { fuelSize: sizes.fuel.size } : {}),
    onHand: {
      oxygenKg: supply.onHand('oxygen').usableKg,
      fuelKg: supply.onHand(list.fuel).usableKg,
    },
    prices: {
      currency: supply.currency,
      ...(sizes.oxygen?.fillMinor == null ? {} : { oxygenCylinderMinor: sizes.oxygen.fillMinor }),
      ...(sizes.fuel?.fillMinor == null ? {} : { fuelCylinderMinor: sizes.fuel.fillMinor }),
    },
  }
}

/** The cut that a refusal is about: `cuts.3.material` names the fourth that was sent. */
function refusedCutId(refusal: Refusal, cuts: readonly CutRow[]): string | null {
  const index = /^cuts\.(\d+)(\.|$)/.exec(refusal.field)?.[1]
  return index === undefined ? null : (cuts[Number(index)]?.id ?? null)
}

function refusalsByCut(
  refusals: readonly Refusal[],
  cuts: readonly CutRow[],
): Record<string, Refusal[]> {
  const byCut: Record<string, Refusal[]> = {}
  for (const refusal of refusals) {
    const cutId = refusedCutId(refusal, cuts)
    if (cutId) byCut[cutId] = [...(byCut[cutId] ?? []), refusal]
  }
  return byCut
}

/** Estimates what is left of a list; what can't be flame-cut is set aside, never silently dropped. */
export function estimateList(list: CutListRow, supply: SiteSupply, norms: Norms): CutListEstimate {
  const stock = { supply, ...norms }
  const sizes = { oxygen: supplyChoice(supply, 'oxygen'), fuel: supplyChoice(supply, list.fuel) }
  const onHand = { oxygen: supply.onHand('oxygen'), fuel: supply.onHand(list.fuel) }
  const left = list.cuts.filter((cut) => cut.doneCount < cut.count)
  const inputs = inputFor(list, left, { ...stock, sizes })
  const first = estimateCutList(inputs)
  const common = { onHand, sizes, crew: norms.crew }
  if (first.ok) return { ...common, inputs, result: first, refusedCuts: {}, refusals: [] }
  const refusedCuts = refusalsByCut(first.refusals, left)
  const rest = left.filter((cut) => !(cut.id in refusedCuts))
  const ofTheList = first.refusals.filter((refusal) => refusedCutId(refusal, left) === null)
  if (ofTheList.length > 0 || rest.length === 0)
    return { ...common, inputs, result: null, refusedCuts, refusals: ofTheList }
  const restInputs = inputFor(list, rest, { ...stock, sizes })
  const second = estimateCutList(restInputs)
  if (second.ok) return { ...common, inputs: restInputs, result: second, refusedCuts, refusals: [] }
  return { ...common, inputs: restInputs, result: null, refusedCuts, refusals: second.refusals }
}

/** Torch time, in seconds, that the gas on site lasts, and what is short of the cuts to do. */
export type Lasting = Readonly<{
  p05S: number
  p275S: number
  p50S: number
  p725S: number
  p95S: number
  shortKg: Interval90
}>

/** How far the gas that is on site goes; null when there is no result or nothing to burn. */
export function lasting(estimate: CutListEstimate, side: 'oxygen' | 'fuel'): Lasting | null {
  const need = side === 'oxygen' ? estimate.result?.oxygen : estimate.result?.fuelGas
  if (!estimate.result || !need || need.mean <= 0) return null
  const onHand = estimate.onHand[side]
  const input: TimeToChangeInput = {
    contentsKg: onHand.usableKg,
    contentsStandardUncertaintyKg: onHand.uKg,
    reserveKg: 0,
    needKg: need.mean,
    needStandardUncertaintyKg: need.standardUncertainty,
    needS: estimate.result.time.torchS,
  }
  const at = (chance: number) => timeToChangeAt(input, chance) ?? estimate.result?.time.torchS ?? 0
  return {
    p05S: at(0.05),
    p275S: at(0.275),
    p50S: at(0.5),
    p725S: at(0.725),
    p95S: at(0.95),
    shortKg: timeToChange(input).shortKg,
  }
}

export type HeaviestPiece = Readonly<{ kg: number; mustRig: boolean }>

/** The heaviest piece that comes down with a cut: the person's own figure, else from the section. */
export function pieceOf(cut: CutRow): HeaviestPiece | null {
  const kg = cut.pieceKg ?? pieceWeightKg(toCutInput(cut, 'hand'))
  return kg === null ? null : { kg, mustRig: kg > JUDGEMENTS.rigAbove.usual }
}

export function heaviestPiece(cuts: readonly CutRow[]): HeaviestPiece | null {
  const left = cuts.filter((cut) => cut.doneCount < cut.count)
  const pieces = left.map(pieceOf).filter((piece) => piece !== null)
  return pieces.reduce<HeaviestPiece | null>(
    (best, piece) => (best && best.kg >= piece.kg ? best : piece),
    null,
  )
}

type ListRow = Readonly<{
  id: string
  siteId: string
  jobId: string
  fuel: string
  process: string
  settings: unknown
  crewId: string | null
  cuts: Parameters<typeof toCutRow>[0][]
}>

/** Lists with their cuts and the crew of their job, in one statement however many they are. */
export async function findCutLists(client: Tx, cutListIds: readonly string[]) {
  const lists = await client.$queryRaw<ListRow[]>`
    SELECT l.id, l.site_id AS "siteId", l.job_id AS "jobId", l.fuel, l.process, l.settings, j.crew_id AS "crewId",
      coalesce((
        SELECT jsonb_agg(jsonb_build_object(
          'id', c.id, 'ordinal', c.ordinal, 'title', c.title, 'material', c.material, 'coating', c.coating, 'dims', c.dims,
          'position', c.position, 'count', c.count, 'doneCount', c.done_count, 'pieceKg', c.piece_kg, 'note', c.note,
          'version', c.version) ORDER BY c.ordinal)
        FROM (SELECT * FROM cuts WHERE cut_list_id = l.id ORDER BY ordinal LIMIT ${MOST_CUTS}) c), '[]') AS cuts
    FROM cut_lists l JOIN jobs j ON j.id = l.job_id
    WHERE l.id = ANY(${[...cutListIds]}::uuid[])`
  return lists.map((list) => {
    const process: CutListRow['process'] = list.process === 'machine' ? 'machine' : 'hand'
    const settings = listSettingsSchema.parse(list.settings)
    return { ...list, process, settings, cuts: list.cuts.map(toCutRow) }
  })
}

export async function findCutList(client: Tx, cutListId: string) {
  const [list] = await findCutLists(client, [cutListId])
  if (!list) throw new AppError('NOT_FOUND')
  return list
}
