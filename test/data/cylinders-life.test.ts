import { v7 as uuidv7 } from 'uuid'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Viewer } from '@/lib/access/viewer'
import { getCylinder } from '@/lib/data/cylinders'
import { quarantineCylinder, releaseCylinder } from '@/lib/data/cylinders-acts'
import {
  correctReading,
  moveCylinder,
  recordFill,
  recordTest,
  reportFound,
  reportLost,
  scrapCylinder,
  sendForTest,
} from '@/lib/data/cylinders-life'
import { takeInCylinder } from '@/lib/data/cylinders-take-in'
import {
  correctReadingSchema,
  recordTestSchema,
  type TakeInInput,
  takeInSchema,
} from '@/lib/schemas/cylinder-life'
import {
  cylinderAt,
  event,
  newCylinder,
  newSite,
  newViewer,
  refusal,
  rowsOf,
  setCompany,
} from './gas-world'

let siteId: string
let yard: Viewer
let watch: Viewer
let stranger: Viewer

const act = (cylinderId: string) => ({ key: uuidv7(), cylinderId })
const because = (cylinderId: string) => ({ ...act(cylinderId), reason: 'Seen by Mei' })
const tested = (cylinderId: string, over: Record<string, string> = {}) =>
  recordTestSchema.parse({ ...act(cylinderId), testedOn: '2026-02-10', method: '', ...over })
const statusOf = async (id: string) =>
  (await rowsOf<{ status: string }>('SELECT status FROM cylinders WHERE id = $1', [id]))[0]?.status
const dueOf = async (id: string) =>
  (
    await rowsOf<{ due: string }>(
      `SELECT to_char(due_month, 'YYYY-MM') AS due FROM cylinders WHERE id = $1`,
      [id],
    )
  )[0]?.due

const taken = (over: Record<string, string> = {}): TakeInInput =>
  takeInSchema.parse({
    key: uuidv7(),
    siteId,
    how: 'bought',
    serial: `KW-${uuidv7().slice(-12).toUpperCase()}`,
    sizeId: 'oxygen-244',
    vessel: 'cylinder',
    spec: 'DOT 3AA2265',
    ...over,
  })

beforeAll(async () => {
  await setCompany()
  siteId = await newSite()
  yard = await newViewer(siteId, 'yard_hand')
  watch = await newViewer(siteId, 'fire_watch')
  stranger = await newViewer(await newSite(), 'yard_hand')
})

describe('the whole life of a cylinder', () => {
  test('is bought, moved, sent to be tested, tested, found again, lost and scrapped, each an event', async () => {
    const { cylinderId: id } = await takeInCylinder(yard, taken())
    expect(await getCylinder(yard, id)).toMatchObject({ status: 'full', ownership: 'owned' })
    await moveCylinder(yard, { ...act(id), toSiteId: null, areaId: null })
    await sendForTest(yard, act(id))
    await recordTest(yard, tested(id, { method: 'volumetric' }))
    expect(await statusOf(id)).toBe('at_test')
    expect(await dueOf(id)).toBe('2031-02') // 3AA: five years, 49 CFR 180.209(a) Table 1
    await reportFound(yard, { ...because(id), siteId, condition: null })
    await reportLost(yard, because(id))
    expect(await statusOf(id)).toBe('lost')
    await scrapCylinder(yard, because(id))
    await expect(reportFound(yard, { ...because(id), siteId, condition: null })).rejects.toEqual(
      refusal('CYLINDER_STATUS'),
    )
    const kinds = await rowsOf(
      'SELECT kind FROM cylinder_events WHERE cylinder_id = $1 ORDER BY seq',
      [id],
    )
    expect(kinds.map((row) => (row as { kind: string }).kind)).toEqual([
      'bought',
      'moved',
      'sent_for_test',
      'requalified',
      'found',
      'lost',
      'scrapped',
    ])
  })

  test('goes on under a starred date for ten years, and in a pack for five', async () => {
    const { cylinderId: id } = await takeInCylinder(yard, taken())
    await recordTest(yard, tested(id, { isStarred: 'yes' }))
    expect(await dueOf(id)).toBe('2036-02') // 49 CFR 180.209(b): ten years with a star
    const pack = await takeInCylinder(yard, taken({ vessel: 'pack', holds: '12' }))
    await recordTest(yard, tested(pack.cylinderId, { isStarred: 'yes' }))
    expect(await dueOf(pack.cylinderId)).toBe('2031-02')
    await expect(
      recordTest(yard, tested(pack.cylinderId, { isStarred: 'yes', dueMonth: '2036-02' })),
    ).rejects.toEqual(refusal('DUE_TOO_LATE'))
    const [row] = await rowsOf<{ kg: number }>(
      `SELECT c.contents_kg / s.nominal_kg AS kg FROM cylinders c JOIN cylinder_sizes s ON s.id = c.size_id WHERE c.id = $1`,
      [pack.cylinderId],
    )
    expect(row?.kg).toBeCloseTo(12, 9)
  })

  test('with heat or damage rests until it is tested, whatever its date', async () => {
    const { id } = await cylinderAt(siteId, 'oxygen-244', yard)
    await quarantineCylinder(yard, { ...because(id), condition: 'heat_damage' })
    await expect(releaseCylinder(yard, because(id))).rejects.toEqual(
      refusal('CONDITION_NEEDS_TEST'),
    )
    await expect(
      recordFill(yard, { ...act(id), filledOn: new Date('2026-01-05'), batch: null }),
    ).rejects.toEqual(refusal('CYLINDER_QUARANTINED'))
    expect((await getCylinder(yard, id)).test).toMatchObject({ mayUseContents: false })
    await sendForTest(yard, act(id))
    await reportFound(yard, { ...because(id), siteId, condition: null })
    expect(await statusOf(id)).toBe('quarantined') // back, and nobody tested it
    await recordTest(yard, tested(id))
    await releaseCylinder(yard, because(id))
    expect(await statusOf(id)).toBe('full')
  })

  test('past its month is not filled, and may be sent, returned and used up', async () => {
    const late = await newCylinder('oxygen-244', { dueMonth: '2020-03-01' })
    await event({
      cylinderId: late.id,
      siteId,
      kind: 'received',
      filled_on: '2020-03-10',
      by: yard,
    })
    const seen = await getCylinder(yard, late.id)
    expect(seen.isPastDue).toBe(true)
    await expect(
      recordFill(yard, { ...act(late.id), filledOn: new Date('2026-01-05'), batch: null }),
    ).rejects.toEqual(refusal('PAST_DUE'))
    await sendForTest(yard, act(late.id))
    expect(await statusOf(late.id)).toBe('at_test')
  })

  test('is corrected by a new event that points at the last reading, and at no older one', async () => {
    const { id } = await cylinderAt(siteId, 'oxygen-244', yard)
    const correctsId = (await getCylinder(yard, id)).lastReadingId ?? ''
    const input = { ...act(id), correctsId, markedEmpty: 'yes', reason: 'It came empty' }
    await correctReading(yard, correctReadingSchema.parse(input))
    expect(await statusOf(id)).toBe('empty')
    await expect(
      correctReading(yard, correctReadingSchema.parse({ ...input, ...act(id) })),
    ).rejects.toEqual(refusal('CORRECTS_OLDER'))
  })

  test('marked empty twice holds no more than before', async () => {
    const { id } = await cylinderAt(siteId, 'oxygen-244', yard)
    await event({
      cylinderId: id,
      siteId,
      kind: 'read',
      contents_kg: 0.01,
      contents_u_kg: 0.01,
      by: yard,
    })
    await event({ cylinderId: id, siteId, kind: 'read', marked_empty: true, by: yard })
    expect(await rowsOf('SELECT contents_kg FROM cylinders WHERE id = $1', [id])).toEqual([
      { contents_kg: 0.01 },
    ])
  })

  test('that holds more than it can is not believed', async () => {
    const { id } = await cylinderAt(siteId, 'oxygen-244', yard)
    const more = event({
      cylinderId: id,
      siteId,
      kind: 'read',
      contents_kg: 60,
      contents_u_kg: 1,
      by: yard,
    })
    await expect(more).rejects.toThrow('MORE_THAN_IT_HOLDS')
  })
})

describe('taking one in', () => {
  test('asks about a serial that is nearly one of the record, until somebody looked again', async () => {
    const known = taken({ serial: 'KW-771204' })
    await takeInCylinder(yard, known)
    const near = { serial: 'KW-77I2O4' }
    await expect(takeInCylinder(yard, taken(near))).rejects.toMatchObject({
      code: 'SERIAL_NEAR',
      reasons: [{ code: 'SERIAL_NEAR_MISREAD', params: { known: 'KW-771204' } }],
    })
    await expect(takeInCylinder(yard, taken({ serial: 'KW-771204' }))).rejects.toEqual(
      refusal('SERIAL_KNOWN'),
    )
    await expect(takeInCylinder(yard, taken({ ...near, isAnother: 'yes' }))).resolves.toBeTruthy()
  })

  test('twice with one key is one cylinder; a rented one names its supplier', async () => {
    const input = taken()
    expect(await takeInCylinder(yard, input)).toEqual(await takeInCylinder(yard, input))
    await expect(takeInCylinder(yard, taken({ how: 'rented_in' }))).rejects.toEqual(
      refusal('SUPPLIER_UNKNOWN'),
    )
  })

  test('is refused to a fire watch, and to another site', async () => {
    await expect(takeInCylinder(watch, taken())).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(takeInCylinder(stranger, taken())).rejects.toEqual(refusal('NOT_FOUND'))
    const { id } = await cylinderAt(siteId, 'oxygen-244', yard)
    await expect(reportLost(watch, because(id))).rejects.toEqual(refusal('FORBIDDEN'))
    await expect(sendForTest(stranger, act(id))).rejects.toEqual(refusal('NOT_FOUND'))
    const [elsewhere] = stranger.grants
    await expect(
      moveCylinder(yard, { ...act(id), toSiteId: elsewhere?.siteId ?? '', areaId: null }),
    ).rejects.toEqual(refusal('NOT_FOUND'))
  })
})
