import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can, sitesWhere } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import type { TipChart } from '@/lib/calc/tables/tip-chart'
import { AppError } from '@/lib/errors'
import {
  type ChooseChartInput,
  chartMaterialsSchema,
  chartRowsSchema,
  type RetireChartInput,
  type SaveChartInput,
} from '@/lib/schemas/tip-chart'
import { db } from './client'
import { once } from './client-keys'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

const MOST_CHARTS = 100
const MOST_OUTFITS = 100

export type OwnChart = Readonly<{
  id: string
  siteId: string
  title: string
  fuelGasId: string
  chart: TipChart
  createdAt: Date
  createdByName: string
  retiredAt: Date | null
  replacesId: string | null
}>

const CHART_COLUMNS = {
  id: true,
  siteId: true,
  title: true,
  source: true,
  fuelGasId: true,
  materials: true,
  rows: true,
  replacesId: true,
  createdBy: true,
  createdAt: true,
  retiredAt: true,
} as const

type Stored = Readonly<{
  id: string
  title: string
  source: string
  materials: unknown
  rows: unknown
}>

/** As lib/calc takes it. Stored JSON is checked again: an older shape must fail here, not in a calculation. */
function toTipChart({ id, title, source, materials, rows }: Stored): TipChart {
  return {
    id,
    title,
    source,
    provenance: 'entered',
    materials: chartMaterialsSchema.parse(materials),
    rows: chartRowsSchema.parse(rows),
  }
}

/** Charts are the company's: whoever reads jobs at any site may read them. */
function assertReader(viewer: Viewer): void {
  if (sitesWhere(viewer, 'job:read').length === 0)
    throw new AppError('FORBIDDEN', { action: 'job:read' })
}

async function withNames(
  rows: readonly (Stored & Omit<OwnChart, 'chart' | 'createdByName'> & { createdBy: string })[],
) {
  const people = await db.person.findMany({
    where: { id: { in: rows.map((row) => row.createdBy) } },
    select: { id: true, name: true },
  })
  const names = new Map(people.map((person) => [person.id, person.name]))
  return rows.map(
    ({ id, siteId, title, fuelGasId, replacesId, createdAt, retiredAt, ...row }): OwnChart => ({
      id,
      siteId,
      title,
      fuelGasId,
      replacesId,
      createdAt,
      retiredAt,
      createdByName: names.get(row.createdBy) ?? '',
      chart: toTipChart({ id, title, ...row }),
    }),
  )
}

type OutfitChart = Readonly<{
  id: string
  number: string
  siteName: string
  fuelGasId: string
  chartId: string | null
  mayChoose: boolean
}>

export type ChartList = Readonly<{
  charts: readonly OwnChart[]
  outfits: readonly OutfitChart[]
  /** Where the viewer may enter one. */
  sites: readonly Readonly<{ id: string; name: string }>[]
}>

/** The shop's charts, the newest first, and which outfit is set by which. */
export async function listCharts(viewer: Viewer): Promise<ChartList> {
  assertReader(viewer)
  const [rows, outfits] = await Promise.all([
    db.tipChart.findMany({
      orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
      take: MOST_CHARTS,
      select: CHART_COLUMNS,
    }),
    db.outfit.findMany({
      where: { siteId: { in: sitesWhere(viewer, 'job:read') } },
      take: MOST_OUTFITS,
      select: { id: true, number: true, siteId: true, fuelGasId: true, tipChartId: true },
    }),
  ])
  const [siteNames, sites] = await Promise.all([
    db.site.findMany({
      where: { id: { in: outfits.map((outfit) => outfit.siteId) } },
      select: { id: true, shortName: true },
    }),
    db.site.findMany({
      where: { id: { in: sitesWhere(viewer, 'chart:write') } },
      orderBy: { name: 'asc' },
      select: { id: true, name: true },
    }),
  ])
  const names = new Map(siteNames.map((site) => [site.id, site.shortName]))
  return {
    charts: await withNames(rows),
    outfits: outfits
      .map(({ siteId, tipChartId, ...outfit }) => ({
        ...outfit,
        siteName: names.get(siteId) ?? '',
        chartId: tipChartId,
        mayChoose: can(viewer, 'chart:write', siteId),
      }))
      .sort((a, b) => a.number.localeCompare(b.number, 'en', { numeric: true })),
    sites,
  }
}

export async function getChart(
  viewer: Viewer,
  chartId: string,
): Promise<OwnChart & { mayWrite: boolean }> {
  assertReader(viewer)
  const row = await db.tipChart.findUnique({ where: { id: chartId }, select: CHART_COLUMNS })
  const [chart] = row ? await withNames([row]) : []
  if (!chart) throw new AppError('NOT_FOUND')
  return { ...chart, mayWrite: can(viewer, 'chart:write', chart.siteId) }
}

/** Which site a chart is of, where the viewer may write there. */
async function writableChart(viewer: Viewer, chartId: string): Promise<void> {
  const chart = await db.tipChart.findUnique({ where: { id: chartId }, select: { siteId: true } })
  if (!chart) throw new AppError('NOT_FOUND')
  roleThen(viewer, 'chart:write', chart.siteId)
}

/** Takes a chart out of use; outfits that were set by it fall back to the built-in table. */
async function retire(tx: Tx, chartId: string): Promise<void> {
  // The trigger writes the time, and refuses a chart that is out of use already.
  await tx.$executeRaw`UPDATE tip_charts SET retired_at = kerf_now() WHERE id = ${chartId}::uuid`
}

/** Keeps a shop's own chart. One that takes over from another takes its outfits over too. */
export async function saveChart(viewer: Viewer, input: SaveChartInput): Promise<{ id: string }> {
  const { key, siteId, fuel, materials, rows, replacesId, title, source } = input
  roleThen(viewer, 'chart:write', siteId)
  if (replacesId) await writableChart(viewer, replacesId)
  return inTransaction(viewer, 'chart:save', (tx) =>
    once(tx, viewer, { key, action: 'chart:save', input }, async () => {
      const id = uuidv7()
      const before = replacesId
        ? await tx.outfit.findMany({ where: { tipChartId: replacesId }, select: { id: true } })
        : []
      if (replacesId) await retire(tx, replacesId)
      await tx.tipChart.create({
        data: {
          id,
          siteId,
          title,
          source,
          fuelGasId: fuel,
          materials,
          rows: JSON.parse(JSON.stringify(rows)),
          replacesId,
          createdBy: viewer.personId,
        },
        select: { id: true },
      })
      await tx.outfit.updateMany({
        where: { id: { in: before.map((outfit) => outfit.id) }, fuelGasId: fuel },
        data: { tipChartId: id },
      })
      return { id }
    }),
  )
}

export async function retireChart(
  viewer: Viewer,
  input: RetireChartInput,
): Promise<{ id: string }> {
  await writableChart(viewer, input.chartId)
  return inTransaction(viewer, 'chart:retire', (tx) =>
    once(tx, viewer, { key: input.key, action: 'chart:retire', input }, async () => {
      await retire(tx, input.chartId)
      return { id: input.chartId }
    }),
  )
}

/** Says which chart an outfit's tips are set by. */
export async function chooseChart(
  viewer: Viewer,
  input: ChooseChartInput,
): Promise<{ outfitId: string }> {
  const outfit = await db.outfit.findUnique({
    where: { id: input.outfitId },
    select: { siteId: true },
  })
  if (!outfit) throw new AppError('NOT_FOUND')
  roleThen(viewer, 'chart:write', outfit.siteId)
  return inTransaction(viewer, 'chart:choose', (tx) =>
    once(tx, viewer, { key: input.key, action: 'chart:choose', input }, async () => {
      await tx.outfit.update({
        where: { id: input.outfitId },
        data: { tipChartId: input.chartId },
        select: { id: true },
      })
      return { outfitId: input.outfitId }
    }),
  )
}

type ChartOf = (crewId: string | null, fuel: string) => TipChart | null

/** The charts that crews' outfits at a site are set by; null is the built-in table. The caller has checked the site. */
export async function siteCharts(client: Tx, siteId: string): Promise<ChartOf> {
  const outfits = await client.$queryRaw<
    (Stored & Readonly<{ crewId: string; fuelGasId: string }>)[]
  >`
    SELECT o.crew_id AS "crewId", o.fuel_gas_id AS "fuelGasId", t.id, t.title, t.source, t.materials, t.rows
    FROM outfits o JOIN tip_charts t ON t.id = o.tip_chart_id
    WHERE o.site_id = ${siteId}::uuid AND o.crew_id IS NOT NULL
    ORDER BY o.number LIMIT ${MOST_OUTFITS}`
  return (crewId, fuel) => {
    const found = outfits.find((one) => one.crewId === crewId && one.fuelGasId === fuel)
    return found ? toTipChart(found) : null
  }
}
