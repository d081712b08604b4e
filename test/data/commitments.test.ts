import { v7 as uuidv7 } from 'uuid'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { otherStanding } from '@/lib/calc/supply-plan-cost'
import { commitSupply, endCommitment, readCommitments } from '@/lib/data/plan/commitments'
import { readPlanFacts } from '@/lib/data/plan/problem'
import { type CommitInput, commitSchema } from '@/lib/schemas/commitment'
import { planAskOf } from '@/lib/schemas/plan'
import { testDatabase } from '../setup/database'
import {
  cylinderAt,
  event,
  insert,
  newSite,
  newSupplier,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

const DAY_MS = 86_400_000
const day = (days: number) => new Date(Date.now() + days * DAY_MS).toISOString().slice(0, 10)

let fromId: string
let toId: string
let manager: Viewer

beforeAll(setCompany)

beforeEach(async () => {
  await testDatabase().setClock(0)
  fromId = await newSite('UTC')
  toId = await newSite('UTC')
  manager = await newViewer(fromId, 'shop_manager')
  await insert('grants', {
    id: uuidv7(),
    person_id: manager.personId,
    site_id: toId,
    role: 'shop_manager',
  })
  manager = {
    ...manager,
    grants: [...manager.grants, { siteId: toId, role: 'shop_manager' as const }],
  }
  await newSupplier()
  for (let i = 0; i < 3; i += 1) await cylinderAt(fromId, 'oxygen-244', manager)
  await cylinderAt(toId, 'oxygen-244', manager)
})

const move = (more: Record<string, unknown> = {}): CommitInput =>
  commitSchema.parse({
    key: uuidv7(),
    kind: 'move',
    siteId: fromId,
    toSiteId: toId,
    dueOn: day(2),
    withPapers: 'no',
    sizeId: ['oxygen-244'],
    quantity: ['2'],
    ...more,
  })
const cellsNow = async () => (await readPlanFacts([fromId, toId], planAskOf({}))).problem.cells
const cellAt = async (siteId: string) =>
  (await cellsNow()).find((cell) => cell.siteId === siteId) ?? expect.fail('no cell')

describe('a move that was confirmed', () => {
  test('is fixed in the plan: it takes here and brings there, on its day', async () => {
    const { id } = await commitSupply(manager, move())
    expect((await cellAt(fromId)).fixedIn.slice(0, 4)).toEqual([0, 0, -2, 0])
    expect((await cellAt(toId)).fixedIn.slice(0, 4)).toEqual([0, 0, 2, 0])
    const [kept] = await readCommitments([toId])
    expect(kept).toMatchObject({ id, kind: 'move', inDays: 2, lines: [{ quantity: 2 }] })
  })

  test('is still fixed the next day, a day nearer, and past its day no more', async () => {
    await commitSupply(manager, move())
    await testDatabase().setClock(DAY_MS)
    expect((await cellAt(toId)).fixedIn.slice(0, 4)).toEqual([0, 2, 0, 0])
    await testDatabase().setClock(3 * DAY_MS)
    expect(await readCommitments([fromId, toId])).toEqual([])
    expect((await cellAt(toId)).fixedIn.every((one) => one === 0)).toBe(true)
  })

  test('leaves the plan when it is done or taken back, once', async () => {
    const { id } = await commitSupply(manager, move())
    await endCommitment(manager, { key: uuidv7(), commitmentId: id, as: 'done' })
    expect((await cellAt(toId)).fixedIn.every((one) => one === 0)).toBe(true)
    await expect(
      endCommitment(manager, { key: uuidv7(), commitmentId: id, as: 'cancelled' }),
    ).rejects.toEqual(refusal('CONFLICT'))
    const trail = await rowsOf<{ act: string; chain: string }>(
      'SELECT act, chain FROM audit_entries WHERE subject_id = $1 ORDER BY at, chain',
      [id],
    )
    expect(trail.map((entry) => entry.act)).toEqual([
      'supply:commit',
      'supply:commit',
      'supply:end',
      'supply:end',
    ])
    expect(new Set(trail.map((entry) => entry.chain))).toEqual(new Set([fromId, toId]))
  })

  test('sent twice is confirmed once', async () => {
    const input = move()
    const first = await commitSupply(manager, input)
    expect(await commitSupply(manager, input)).toEqual(first)
    expect(await readCommitments([fromId])).toHaveLength(1)
  })

  // 49 CFR 173.6(d): 440 lb gross on a vehicle; an oxygen cylinder of 244 ft³ weighs about 150 lb.
  test('past materials of trade is refused without papers, and not with them', async () => {
    await expect(commitSupply(manager, move({ quantity: ['4'] }))).rejects.toEqual(
      refusal('LOAD_NEEDS_PAPERS'),
    )
    await commitSupply(manager, move({ quantity: ['4'], withPapers: 'yes' }))
    expect((await readCommitments([fromId]))[0]?.withPapers).toBe(true)
  })

  test('is refused on a day that is past, and to whoever may not order at both ends', async () => {
    await expect(commitSupply(manager, move({ dueOn: day(-1) }))).rejects.toEqual(
      refusal('DAY_PAST'),
    )
    const oneEnd = await newViewer(fromId, 'shop_manager')
    await expect(commitSupply(oneEnd, move())).rejects.toBeDefined()
    const watch = await newViewer(fromId, 'fire_watch')
    await expect(commitSupply(watch, move())).rejects.toEqual(refusal('FORBIDDEN'))
    expect(await readCommitments([fromId])).toEqual([])
  })
})

describe('a return that was confirmed', () => {
  test('speaks for its empties: no other truck is sent for them', async () => {
    const empty = await cylinderAt(fromId, 'oxygen-244', manager)
    await event({
      cylinderId: empty.id,
      siteId: fromId,
      kind: 'read',
      by: manager,
      contents_kg: 0,
      contents_u_kg: 0.1,
      marked_empty: true,
    })
    const before = (await cellAt(fromId)).empty
    await commitSupply(
      manager,
      commitSchema.parse({
        key: uuidv7(),
        kind: 'return',
        siteId: fromId,
        toSiteId: '',
        dueOn: day(3),
        withPapers: 'no',
        sizeId: ['oxygen-244'],
        quantity: ['1'],
      }),
    )
    expect(before).toBe(1)
    const cell = await cellAt(fromId)
    expect(cell.empty).toBe(0)
    // It stands there until the truck comes: its room is free from that day on.
    expect(cell.leaving?.slice(0, 5)).toEqual([1, 1, 1, 0, 0])
    expect([0, 2, 3].map((on) => otherStanding(cell, on) - cell.inUse)).toEqual([1, 1, 0])
  })
})
