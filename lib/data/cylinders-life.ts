import 'server-only'
import type { Viewer } from '@/lib/access/viewer'
import { AppError } from '@/lib/errors'
import { latestDue } from '@/lib/rules/test-due'
import type { CylinderActInput, CylinderReasonInput } from '@/lib/schemas/cylinder'
import type {
  CorrectReadingInput,
  FindCylinderInput,
  MoveCylinderInput,
  RecordFillInput,
  RecordTestInput,
} from '@/lib/schemas/cylinder-life'
import { contentsOrRefuse, readingColumns } from './contents'
import { findLastReading } from './cylinders'
import { type Acted, actOn, record } from './cylinders-acts'
import { plateOf } from './cylinders-test'
import { roleThen } from './role-then'
import { guardStorage } from './storage-moves'

/** To another area of its site, or straight to another of the viewer's sites. */
export async function moveCylinder(viewer: Viewer, input: MoveCylinderInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:move', input.cylinderId)
  if (input.toSiteId) roleThen(viewer, 'cylinder:move', input.toSiteId)
  const { areaId, toSiteId } = input
  const there = {
    siteId: toSiteId ?? cylinder.siteId,
    areaId,
    cylinderIds: [input.cylinderId],
    isConfirmed: input.storageConfirmed ?? false,
    role: cylinder.role,
  }
  return record(
    viewer,
    'cylinder:move',
    input,
    cylinder,
    { kind: 'moved', toSiteId, areaId },
    (tx) => guardStorage(tx, viewer, there),
  )
}

/** Away to whoever tests it; past its month or not, this is always allowed. */
export async function sendForTest(viewer: Viewer, input: CylinderActInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:move', input.cylinderId)
  return record(viewer, 'cylinder:send-for-test', input, cylinder, { kind: 'sent_for_test' })
}

const dayText = (date: Date) => date.toISOString().slice(0, 10)
const monthStart = (month: string) => new Date(`${month}-01T00:00:00.000Z`)

/** A test that was passed: when it was, how, and the month it holds to; its wall is sound again. */
export async function recordTest(viewer: Viewer, input: RecordTestInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:receive', input.cylinderId)
  const plate = { ...plateOf(cylinder), isStarred: input.isStarred }
  const latest = latestDue(
    { ...plate, method: input.method ?? plate.method },
    dayText(input.testedOn),
  )
  const dueMonth = input.dueMonth ?? (latest ? monthStart(latest) : null)
  if (!dueMonth) throw new AppError('DUE_NOT_TOLD', { spec: cylinder.spec })
  return record(viewer, 'cylinder:record-test', input, cylinder, {
    kind: 'requalified',
    requalifiedOn: input.testedOn,
    dueMonth,
    testMethod: input.method,
    isStarred: input.isStarred,
  })
}

/** Filled by us or seen as filled; past its due month the database refuses. */
export async function recordFill(viewer: Viewer, input: RecordFillInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:receive', input.cylinderId)
  return record(viewer, 'cylinder:fill', input, cylinder, {
    kind: 'filled',
    filledOn: input.filledOn,
    batch: input.batch,
  })
}

export async function reportLost(viewer: Viewer, input: CylinderReasonInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:move', input.cylinderId)
  return record(viewer, 'cylinder:lost', input, cylinder, { kind: 'lost', reason: input.reason })
}

/** Stands again at one of the viewer's sites, with what was last known to be in it. */
export async function reportFound(viewer: Viewer, input: FindCylinderInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:move', input.cylinderId)
  const role = roleThen(viewer, 'cylinder:move', input.siteId)
  const there = { ...cylinder, siteId: input.siteId, role }
  return record(viewer, 'cylinder:found', input, there, {
    kind: 'found',
    condition: input.condition,
    reason: input.reason,
  })
}

export async function scrapCylinder(viewer: Viewer, input: CylinderReasonInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:move', input.cylinderId)
  return record(viewer, 'cylinder:scrap', input, cylinder, {
    kind: 'scrapped',
    reason: input.reason,
  })
}

/** What an earlier event should have said was in it; the earlier one stays. */
export async function correctReading(viewer: Viewer, input: CorrectReadingInput): Promise<Acted> {
  const cylinder = await actOn(viewer, 'cylinder:read-gauge', input.cylinderId)
  // What was read since is newer than what is put right here, and counts.
  const last = await findLastReading(input.cylinderId)
  if (last?.id !== input.correctsId)
    throw new AppError('CORRECTS_OLDER', { serial: cylinder.serial })
  const read = input.reading
    ? readingColumns(input.reading, contentsOrRefuse(input.reading, cylinder.size, cylinder.tareKg))
    : {}
  return record(viewer, 'cylinder:correct', input, cylinder, {
    kind: 'corrected',
    correctsId: input.correctsId,
    markedEmpty: input.markedEmpty,
    reason: input.reason,
    ...read,
  })
}
