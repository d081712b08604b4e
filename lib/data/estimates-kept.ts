import 'server-only'
import { v7 as uuidv7 } from 'uuid'
import { can } from '@/lib/access/access'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import type { KeepEstimateInput } from '@/lib/schemas/job'
import { db } from './client'
import { once } from './client-keys'
import { siteNorms } from './estimate-norms'
import { readSiteSupply } from './estimate-supply'
import { estimateList, findCutList } from './estimates'
import { roleThen } from './role-then'
import { inTransaction, type Tx } from './tx'

/** Everything that names where a number came from, once each, so that a snapshot carries its sources. */
function sourcesIn(value: unknown, found = new Map<string, unknown>()): unknown[] {
  if (typeof value === 'object' && value !== null) {
    if ('formulaCode' in value && 'provenance' in value) {
      const { formulaCode, provenance } = value
      const tableId = 'tableId' in value ? value.tableId : null
      found.set(`${formulaCode} ${tableId} ${provenance}`, { formulaCode, tableId, provenance })
    }
    for (const inner of Object.values(value)) sourcesIn(inner, found)
  }
  return [...found.values()]
}

const asJson = (value: unknown) => JSON.parse(JSON.stringify(value)) as object

type Snapshot = Readonly<{
  cutListId: string
  reason: 'kept' | 'issued'
  permitId: string | null
  keptBy: string
}>

/**
 * Keeps an estimate as it stands: inputs, result, version and sources. `issued` is for the signing of
 * a permit, inside its own transaction. Null when the list gives no number to keep.
 */
export async function snapshotEstimate(tx: Tx, snapshot: Snapshot): Promise<{ id: string } | null> {
  const list = await findCutList(tx, snapshot.cutListId)
  const norms = await siteNorms(tx, list.siteId)
  const { inputs, result, refusedCuts } = estimateList(
    list,
    await readSiteSupply(list.siteId, tx),
    norms(list.crewId, list.fuel),
  )
  if (!result) return null
  const id = uuidv7()
  await tx.estimate.create({
    select: { id: true },
    data: {
      id,
      siteId: list.siteId,
      jobId: list.jobId,
      cutListId: list.id,
      permitId: snapshot.permitId,
      reason: snapshot.reason,
      calcVersion: result.calcVersion,
      inputs: asJson(inputs),
      result: asJson({ ...result, refusedCuts }),
      sources: asJson(sourcesIn(result)),
      oxygenKg: result.oxygen.mean,
      oxygenUKg: result.oxygen.standardUncertainty,
      fuel: result.fuel,
      fuelKg: result.fuelGas.mean,
      fuelUKg: result.fuelGas.standardUncertainty,
      keptBy: snapshot.keptBy,
    },
  })
  return { id }
}

/** Keeps the estimate that the person is looking at. */
export async function keepEstimate(
  viewer: Viewer,
  input: KeepEstimateInput,
): Promise<{ id: string; jobId: string }> {
  const list = await db.cutList.findUnique({
    where: { id: input.cutListId },
    select: { siteId: true, jobId: true },
  })
  if (!list) throw new AppError('NOT_FOUND')
  roleThen(viewer, 'estimate:keep', list.siteId)
  return inTransaction(viewer, 'estimate:keep', (tx) =>
    once(
      tx,
      viewer,
      { key: input.key, action: 'estimate:keep', input: { cutListId: input.cutListId } },
      async () => {
        const kept = await snapshotEstimate(tx, {
          ...input,
          reason: 'kept',
          permitId: null,
          keptBy: viewer.personId,
        })
        if (!kept) throw new AppError('NOTHING_TO_KEEP')
        return { id: kept.id, jobId: list.jobId }
      },
    ),
  )
}

export type KeptEstimate = Readonly<{
  id: string
  keptAt: Date
  reason: 'kept' | 'issued'
  calcVersion: string
  fuel: string
  oxygenKg: number
  fuelKg: number
  keptByName: string
}>

const LAST_KEPT = 5

/** The latest snapshots of a job, newest first. */
export async function listKeptEstimates(
  viewer: Viewer,
  job: Readonly<{ id: string; siteId: string }>,
): Promise<KeptEstimate[]> {
  if (!can(viewer, 'job:read', job.siteId)) throw new AppError('NOT_FOUND')
  const rows = await db.estimate.findMany({
    where: { jobId: job.id, siteId: job.siteId },
    orderBy: [{ keptAt: 'desc' }, { id: 'desc' }],
    take: LAST_KEPT,
    select: {
      id: true,
      keptAt: true,
      reason: true,
      calcVersion: true,
      fuel: true,
      oxygenKg: true,
      fuelKg: true,
      keptBy: true,
    },
  })
  const people = await db.person.findMany({
    where: { id: { in: rows.map((row) => row.keptBy) } },
    select: { id: true, name: true },
  })
  const names = new Map(people.map((person) => [person.id, person.name]))
  return rows.map(({ keptBy, reason, ...row }) => ({
    ...row,
    reason: reason === 'issued' ? 'issued' : 'kept',
    keptByName: names.get(keptBy) ?? '',
  }))
}
